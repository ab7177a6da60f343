"""The gutter round the house, worked out: pieces, falls, hangers, downpipes. Pure values in and out."""

from gutterance.layout.house import lay_out
from gutterance.layout.values import Layout

__all__ = ["Layout", "lay_out"]
