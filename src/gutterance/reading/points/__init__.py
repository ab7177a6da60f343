"""Notes whose corners have letters or numbers, and whose runs go from one to the next: `A-B 31-6`."""

from __future__ import annotations
