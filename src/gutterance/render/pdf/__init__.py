"""The papers that are printed: what stands on each page, as plain data, and the setting of it as PDF."""
