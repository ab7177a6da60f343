"""The cut list, downpipe list, install sheet and hardware as data (`gutterance-lists-1`)."""

from gutterance.lists.models import Lists

__all__ = ["Lists"]
