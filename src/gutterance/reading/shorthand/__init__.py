"""Clipped shorthand: rows in which letters, signs and numbers stand against each other."""
