"""What each page shows, as plain values: no HTML, no HTTP, no database."""
