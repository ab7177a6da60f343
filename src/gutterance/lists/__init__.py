"""The cut list, downpipe list, install sheet and hardware as data (`gutterance-lists-1`)."""

from gutterance.lists.explaining import Explanation, UnknownListPath, explain, explanations
from gutterance.lists.make import make_lists
from gutterance.lists.models import Lists

__all__ = ["Explanation", "Lists", "UnknownListPath", "explain", "explanations", "make_lists"]
