"""Where the words of a sheet's title stand in a line of its note."""

from __future__ import annotations

from gutterance.reading.titles import house_number_in_figures


def places_of_title(line: str, title: str | None) -> set[int]:
    """The characters of the title's words; a house number that was spoken stands in the title in figures."""
    if not title:
        return set()
    at = line.find(title)
    places = set(range(at, at + len(title))) if at >= 0 else set()
    street = title.partition(" ")[2]
    end = line.find(street) + len(street) if street and street in line else 0
    for start in range(end):
        if house_number_in_figures(line[start:end]) == title:
            places |= set(range(start, end))
    return places
