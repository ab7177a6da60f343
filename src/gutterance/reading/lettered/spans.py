"""Where the names of runs stand in a line of a note that is known to letter or number them."""

from __future__ import annotations

import re

from gutterance.reading.items import Item
from gutterance.reading.lettered.chains import numbers_in_chain
from gutterance.reading.lettered.naming import (
    MOST_NUMBERS,
    Naming,
    RunName,
    glued,
    hashed,
    letter_of,
    misheard,
    noun_led,
    number_of,
    row,
)
from gutterance.reading.lettered.patterns import (
    AFTER_A,
    AFTER_ALSO,
    ALSO,
    ASKED,
    BEFORE_A,
    CORNER_NEAR,
    CORNER_WORD,
    HEARD_AS,
    ITS_END,
    LABEL,
    LETTER,
    LETTER_ROW,
    LISTED,
    MEET,
    NO_RUN_BEFORE,
    NO_RUN_BEHIND,
    NOUN_FOR_A,
    NUMBER_WORDS,
    ONE_OF_THEM,
    OWNED,
    REFERRED,
    ROW_PARTED,
    SAME_BEFORE,
    SMALL_A,
    SMALL_ALONE,
    SMALL_NOUN_LED,
)

NEAR = 40
"""How far [characters] the words beside a name are looked at."""


def spans_of(text: str, naming: Naming) -> tuple[list[RunName], list[RunName]]:
    """The names of runs and the labels of pipes in a line, each in order."""
    found = _Spans(text, naming)
    found.find()
    return sorted(found.names, key=lambda name: name.start), found.labels


class _Spans:
    """The names found in a line; no two of them over the same words."""

    def __init__(self, text: str, naming: Naming) -> None:
        self.text, self.naming = text, naming
        self.known = frozenset(naming.order)
        self.taken = bytearray(len(text))
        self.names: list[RunName] = []
        self.labels: list[RunName] = []

    def find(self) -> None:
        """Find all the names and labels of the line."""
        for match in LABEL.finditer(self.text):
            if len(match["thing"]) > 1 or match["thing"].isupper():
                self.labels.append(
                    RunName(match.start(), match.end(), number_of(match["name"]), match.start())
                )
                self.taken[match.start() : match.end()] = b"\x01" * (match.end() - match.start())
        self._with_nouns()
        if self.naming.letters:
            self._letters_alone()
            return
        for match in misheard(self.text):
            if HEARD_AS[match["name"].lower()] not in {name.run for name in self.names[:MOST_NUMBERS]}:
                self._take(*match.span("name"), HEARD_AS[match["name"].lower()], match.start())
        for match in (*glued(self.text), *hashed(self.text)):
            self._take(*match.span(), match["name"])
        self._listed_behind()
        self._numbers_alone()
        self._listed_behind()

    def _take(self, start: int, end: int, run: str, whole: int | None = None) -> bool:
        """Take words as the name of a run, where they are free and the run is one of the note's."""
        whole = start if whole is None else whole
        if run not in self.known or any(self.taken[whole:end]):
            return False
        self.taken[whole:end] = b"\x01" * (end - whole)
        self.names.append(RunName(start, end, run, whole))
        return True

    def _with_nouns(self) -> None:
        """Names with their noun before them: `wall two`, `run b`."""
        for match in noun_led(self.text):
            said = match["name"]
            number = said.isdigit() or said.lower() in NUMBER_WORDS
            self._take(*match.span("name"), number_of(said) if number else letter_of(said), match.start())
        for match in SMALL_NOUN_LED.finditer(self.text) if self.naming.letters else ():
            if match["name"].lower() != "a":
                self._take(*match.span("name"), match["name"].lower(), match.start())

    def _listed_behind(self) -> None:
        """The numbers listed behind a name: `runs 1, 2 and 4`."""
        for name in list(self.names):
            at = name.end
            while match := ALSO.match(self.text, at):
                joint = match["join"].strip()
                dashed = joint in ("-", "–") and joint != match["join"] and not match["sign"]  # `run 1 - 36`
                if dashed or not AFTER_ALSO.match(self.text, match.end()):
                    break
                if not self._take(match.start("sign"), match.end("name"), number_of(match["name"])):
                    break
                at = match.end()

    def _letters_alone(self) -> None:
        """Letters that stand alone, but for an article, and for those of a unit or an abbreviation."""
        text = self.text
        row_of_list = LETTER_ROW.match(text)
        if row_of_list is not None:
            start, end = row_of_list.span("name")
            self._take(start, end + 1, row_of_list["name"].lower())
        for match in LETTER.finditer(text):
            start, end = match.span()
            letters = match.group().lower()
            if match["radio"]:
                self._take(start, end, letter_of(match["radio"]))
            elif match["two"]:
                self._two_letters(start, end, letters)
            elif (
                letters in self.known
                and not _part_of_another_word(text, start, end, self.known)
                and not NO_RUN_BEFORE.search(text[max(0, start - NEAR) : start])
                and (letters != "a" or names_run_a(text, start, end))
            ):
                self._take(start, end, letters)
        if not any(name.end - name.start == 1 and text[name.start].isupper() for name in self.names):
            for match in SMALL_ALONE.finditer(text):
                self._take(*match.span("name"), match["name"])
            for match in SMALL_A.finditer(text) if self.names else ():
                self._take(*match.span("name"), "a")

    def _two_letters(self, start: int, end: int, letters: str) -> None:
        """`AB`: the corner of two runs that follow one another, or beside a word for a corner."""
        if not set(letters) <= self.known or letters[0] == letters[1]:
            return
        order = self.naming.order
        follows = ord(letters[1]) - ord(letters[0]) == 1 or letters == order[-1] + order[0]
        near = self.text[max(0, start - NEAR // 2) : start] + " " + self.text[end : end + NEAR // 2]
        if follows or CORNER_NEAR.search(near):
            self._take(start, start + 1, letters[0])
            self._take(start + 1, end, letters[1])

    def _numbers_alone(self) -> None:
        """Bare numbers that can only be runs: `inside at three`, `1/2 corner`, `4 both ends`."""
        text = self.text
        for start, end in numbers_in_chain(text, self.known):
            self._take(start, end, text[start:end])
        opening = row(text)
        if opening is not None and (
            opening["sep"] or ROW_PARTED.match(text) or not opening["rest"][:1].isdigit()
        ):
            self._take(*opening.span("name"), opening["name"])
        for match in MEET.finditer(text):
            pair = {number_of(match["first"]), number_of(match["second"])}
            near = (
                text[max(0, match.start() - 12) : match.start()] + " " + text[match.end() : match.end() + 12]
            )
            if pair <= self.known and len(pair) > 1 and CORNER_WORD.search(near):
                self._take(*match.span("first"), number_of(match["first"]))
                self._take(*match.span("second"), number_of(match["second"]))
        for pattern in (REFERRED, OWNED, ITS_END, LISTED, ASKED):
            for match in pattern.finditer(text):
                if pattern is LISTED and match["before"].strip() == "" and not match["name"].isdigit():
                    continue
                if match["name"].lower() == "one" and ONE_OF_THEM.match(text, match.end("name")):
                    continue
                self._take(*match.span("name"), number_of(match["name"]))


def _part_of_another_word(text: str, start: int, end: int, known: frozenset[str]) -> bool:
    """`D/S`, `A.M.`, `C/C`, `A/C unit`: a letter that belongs to an abbreviation."""
    before = re.search(r"([\w.]+)[/&.]\Z", text[max(0, start - NEAR) : start])
    if before and not (before[1].lower() in known and before[1].lower() != text[start:end].lower()):
        return not before[1].strip(".").isdigit() and "." not in text[start - 1 : start]
    behind = re.match(r"[/&.](\w+)", text[end : end + NEAR])
    if behind:
        if behind[1].lower() not in known or behind[1].lower() == text[start:end].lower():
            return (
                not (text[end] == "." and behind[1][0].isupper() and len(behind[1]) > 1)
                and not behind[1][0].isdigit()
            )
        if NO_RUN_BEHIND.match(text[end + behind.end() : end + behind.end() + NEAR]):
            return True
    return False


def names_run_a(text: str, start: int, end: int) -> bool:
    """Whether a capital A is a run, not the article that opens a sentence."""
    if BEFORE_A.search(text[max(0, start - NEAR) : start]) and not re.match(
        r"\s+(?!end\b|gutter\b|corner\b|side\b|cnr\b|is\b|and\b|out\b|to\b|at\b)[a-z]{3,}", text[end:]
    ):
        return True
    if NOUN_FOR_A.match(text, end) and not re.match(
        r"\s+\w+\s+(?:is|'s|at the \w+ end\b|\d)", text[end : end + NEAR]
    ):
        return False
    return AFTER_A.match(text, end) is not None


def points_of(naming: Naming, number: int) -> list[RunName]:
    """Where the corners of a sketch stand in a line, in a note that names those."""
    corners: dict[int, list[RunName]] = getattr(naming, "points", {})
    return corners.get(number, [])


def without_names(text: str, number: int, naming: Naming) -> str:
    """The line with its names blanked, places kept: the `1` of `run 1` must not be read as a number."""
    signs = list(text)
    for name in (*naming.names.get(number, ()), *naming.labels.get(number, ()), *points_of(naming, number)):
        signs[name.start : name.end] = "_" * (name.end - name.start)
    return "".join(signs)


def fold_names(number: int, text: str, items: list[Item], naming: Naming) -> list[Item]:
    """The line's items with each name of a run, and each label of a pipe, as one item."""
    runs = {name.start for name in naming.names.get(number, ())}
    points = points_of(naming, number)
    names = [*naming.names.get(number, ()), *naming.labels.get(number, ()), *points]
    if not names:
        return items
    covered = bytearray(len(text))
    for name in names:
        covered[name.whole : name.end] = b"\x01" * (name.end - name.whole)
    kept = [item for item in items if not any(covered[item.start : item.end])]
    for item in items:
        if item.kind != "measure" and covered[item.start] and not covered[item.end - 1]:
            # `B end`: a word of the trade that begins with the name
            start = item.start + next(at for at, over in enumerate(covered[item.start :]) if not over)
            tail = text[start : item.end].lstrip()
            if tail:
                kept.append(Item(number, item.end - len(tail), item.end, tail, "filler", ""))
    for name in names:
        kind = "numbered" if name.start in runs else "point" if name in points else "pipe label"
        folded = Item(number, name.whole, name.end, text[name.whole : name.end], kind, name.run)
        if kind == "numbered":
            folded.marks.update(lettered=True, signed=name.whole < name.start)
        elif kind == "pipe label" and SAME_BEFORE.search(text[max(0, name.whole - NEAR) : name.whole]):
            folded.marks["like pipe"] = True
        kept.append(folded)
    return sorted(kept, key=lambda item: item.start)
