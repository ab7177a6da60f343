"""Notes whose runs are named by letters or numbers from a sketch: `A 31-6`, `wall two`, `R1 at R4`."""

from __future__ import annotations
