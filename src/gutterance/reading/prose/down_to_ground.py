"""`From the underside of the gutter down to the soil I measured`: a height told by its two ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.prose.chunks import Chunk

UPPER = frozenset(
    {"gutter", "guttering", "eave", "eaves", "outlet", "outlets", "fascia", "board", "roof", "gutter line"}
)
"""What a pipe comes down from."""
LOWER = frozenset(
    {"ground", "soil", "dirt", "earth", "grass", "lawn", "gravel", "path", "pavement", "paving", "yard",
     "drive", "driveway", "street", "sidewalk", "patio", "deck", "terrace", "flags", "cobbles", "concrete",
     "bed", "alley", "walk", "gulley", "gully", "drain", "grade", "garden", "slabs", "asphalt", "tarmac",
     "flower"}
)  # fmt: skip
"""What it comes down to."""
FARTHEST = 12
"""So many chunks stand between `from` and what a height goes down to, at most."""
FALLS = frozenset({"away", "higher", "lower", "deeper", "down", "off", "up", "slopes", "rises"})
"""Words that say of the ground that it is not at one level."""


def fold_heights(chunks: list[Chunk]) -> list[Chunk]:
    """The chunks with each `from the gutter to the ground`, before or behind its number, as one: a height."""
    folded: list[Chunk] = []
    number = 0
    while number < len(chunks):
        behind = _goes_down(chunks, number)
        if behind is None:
            folded.append(chunks[number])
            number += 1
            continue
        first, last = chunks[number], chunks[behind - 1]
        said = bool(number) and (chunks[number - 1].kind == "number" or chunks[number - 1].text == "of it")
        first.kind = "height behind" if said else "drops"
        first.value, first.text, first.end = "", "the height", last.end
        folded.append(first)
        number = behind
    return folded


def _goes_down(chunks: list[Chunk], first: int) -> int | None:
    """The chunk behind a `from the gutter to the ground` that begins here; None where none does."""
    if chunks[first].text.split()[0] != "from":
        return None
    upper = to = False
    for place in range(first, min(first + FARTHEST, len(chunks))):
        chunk = chunks[place]
        if chunk.kind in ("comma", "semi", "number", "which"):
            return None
        words = chunk.text.split()
        if to and any(word in LOWER for word in words):
            return place + 1
        upper = upper or any(word in UPPER for word in words)
        to = upper and (to or "to" in words)
        if to and words[-1] in LOWER and words[0] == "to":
            return place + 1
    return None


def ground_is_uneven(chunks: list[Chunk], number: int) -> bool:
    """`at the back the ground is higher: 2310`: whether a number follows what is said of the ground."""
    words = [word for chunk in chunks[:number] for word in chunk.text.split()]
    return any(
        word in LOWER and FALLS & set(words[place + 1 : place + 6]) for place, word in enumerate(words)
    )
