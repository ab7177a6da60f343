"""gutterance: from a walk-round's words to the lists a gutter crew works from."""

__version__ = "0.1.0"
