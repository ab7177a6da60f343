"""The pages and the API: what browsers ask, answered by `jobs`. No rule of the trade is here."""
