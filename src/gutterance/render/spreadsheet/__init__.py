"""The office's tables: the lists and the quantities with prices, as CSV and as a workbook, inert in both."""
