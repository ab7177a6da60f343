"""The papers: the lists as plain text, CSV and JSON. `text` prints, `files` writes."""
