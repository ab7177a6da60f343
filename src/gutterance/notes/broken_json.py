"""JSON read as far as it goes, with the line of each object, and what is broken told by line.

RFC 8259 is the grammar. A file cut short, a missing comma or an unescaped sign costs no word that stands in
it: a text that was cut is kept as far as it goes. The way down is a list, not the stack: depth does no harm.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from dataclasses import dataclass
from typing import Any

LINE = 0
"""The key under which each object holds the line it begins on: the keys of a file are all texts."""

_TOKEN = re.compile(
    r'\s*(?:(?P<mark>[{}\[\],:])|"(?P<text>[^"\\\n]*(?:\\.[^"\\\n]*)*)(?P<close>"?)'
    r"|(?P<bare>[^\s{}\[\],:\"]+))"
)
_OVER_LINES = re.compile(r'[^"\\]{0,5000}(?:\\.[^"\\]{0,5000}){0,500}"(?=\s*[,:}\]])', re.DOTALL)
_ESCAPE = re.compile(r"\\(?:u([0-9a-fA-F]{4})|(.))", re.DOTALL)
_PLAIN = {"n": "\n", "t": "\t", "r": "\r", "b": "\b", "f": "\f"}
_WORDS = {"true": True, "false": False, "null": None}


# What must follow the mark that closes a text. In an object a name follows a comma; a comma that was left
# out still shows by the name that follows.
_CLOSES_IN_OBJECT = re.compile(r'"\s*(?:[}\]:]|\Z|,\s*(?:["}]|\Z)|"[^"\n]{0,100}"\s*:)')
_CLOSES_IN_LIST = re.compile(r'"\s*(?:[}\],]|\Z)')
_MARK = re.compile(r'(?<!\\)"')
_MOST_MARKS = 40
_MOST_MENDED = 1000
"""Faults after which no more is tried to see where a text ends: such a file is no longer worth the time."""


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong, on which line (from 1), and how the text goes on there."""

    line: int
    what: str
    there: str


@dataclass(frozen=True, slots=True)
class Parsed:
    """What was read, each fault, and what stood after the end (a mark too many may have ended it too soon).

    A name that stands twice in an object, or none, is kept under a pair, the name and its place.
    """

    value: Any
    faults: tuple[Fault, ...]
    after: tuple[Any, ...] = ()


def parse_json(text: str) -> Parsed:
    r"""The value in `text`; objects are dicts that hold their line under `LINE`. Raises nothing.

    >>> parse_json('{"text": "Front 42').value["text"]
    'Front 42'
    >>> [fault.what for fault in parse_json('{"text": "Front 42').faults]
    ['a text is not closed', 'the file ends before it is complete']
    >>> parse_json('{"text": "Front 42\' 6" corner", "start": 1}').value["text"]
    'Front 42\' 6" corner'
    """
    return _Reader(text).read()


class _Reader:
    def __init__(self, text: str) -> None:
        self.text = text
        self.starts = [0, *(match.end() for match in re.finditer("\n", text))]
        self.faults: list[Fault] = []
        self.root: list[Any] = []
        self.open: list[Any] = [self.root]
        self.keys: list[str | None] = [None]
        # What may come: in an object a key, its colon, its value; anywhere a comma between two.
        self.colon = self.comma = False
        self.after = False

    def line(self, at: int) -> int:
        return bisect_right(self.starts, at)

    def fault(self, at: int, what: str) -> None:
        there = self.text[max(at - 10, 0) : at + 50]
        self.faults.append(Fault(self.line(at), what, " ".join(there.split())))

    def read(self) -> Parsed:
        at = 0
        while (match := _TOKEN.match(self.text, at)) is not None:
            at = match.end()
            if len(self.open) == 1 and self.root and not self.after:
                self.fault(match.start(match.lastgroup or 0), "something stands after the end")
                self.after, self.comma = True, False
            if match["mark"]:
                self.mark(match["mark"], match.start("mark"))
            elif match["text"] is not None:
                said, start = match["text"], match.start("text")
                if not match["close"]:
                    mend = len(self.faults) <= _MOST_MENDED
                    over = _OVER_LINES.match(self.text, start) if mend else None
                    self.fault(
                        start, "a text runs over the end of a line" if over else "a text is not closed"
                    )
                    if over:
                        said, at = over.group()[:-1], over.end()
                elif (end := self.end_of_text(match.end() - 1)) != match.end() - 1:
                    self.fault(match.end() - 1, "a quotation mark within a text")
                    said, at = self.text[start:end], end + 1
                self.value(_unescaped(said), start)
            else:
                self.value(self.bare(match["bare"], match.start("bare")), match.start("bare"))
        if len(self.open) > 1:
            self.fault(max(len(self.text) - 1, 0), "the file ends before it is complete")
        return Parsed(self.root[0] if self.root else None, tuple(self.faults), tuple(self.root[1:]))

    def end_of_text(self, first: int) -> int:
        """Where the text ends whose first closing mark is at `first`: inch marks are often left unescaped."""
        in_object = isinstance(self.open[-1], dict)
        if in_object and (self.comma or self.keys[-1] is None):
            return first  # a name, and names have no such marks
        closes = _CLOSES_IN_OBJECT if in_object else _CLOSES_IN_LIST
        if closes.match(self.text, first) or len(self.faults) > _MOST_MENDED:
            return first
        line_end = self.text.find("\n", first, first + 5000)
        stop = line_end if line_end >= 0 else first + 5000
        for number, mark in enumerate(_MARK.finditer(self.text, first + 1, stop)):
            if closes.match(self.text, mark.start()):
                return mark.start()
            if number > _MOST_MARKS:
                break
        return first

    def mark(self, mark: str, at: int) -> None:
        inside = self.open[-1]
        if mark in "}]," and self.keys[-1] is not None:
            self.fault(at, f"{self.keys[-1][:60]!r} has no value")
        if mark in "{[":
            made: Any = {LINE: self.line(at)} if mark == "{" else []
            self.value(made, at)
            self.open.append(made)
            self.keys.append(None)
            self.colon = self.comma = False
        elif mark in "}]":
            wanted = "}" if isinstance(inside, dict) else "]"
            if len(self.open) == 1:
                self.fault(at, f"a {mark} too many")
                return
            if mark != wanted:
                self.fault(at, f"a {mark} where a {wanted} should be")
                if not any(isinstance(one, dict) == (mark == "}") for one in self.open[1:]):
                    return
                while isinstance(self.open[-1], dict) != (mark == "}"):
                    self.leave()
            self.leave()
            self.comma = True
        elif mark == ",":
            self.comma = self.colon = False
            self.keys[-1] = None
        else:
            self.colon = True

    def leave(self) -> None:
        self.open.pop()
        self.keys.pop()
        self.colon = False

    def value(self, value: Any, at: int) -> None:
        inside = self.open[-1]
        if self.comma:
            self.fault(at, "a comma is missing")
            self.comma = False
            self.keys[-1] = None
        if isinstance(inside, dict):
            key: Any = self.keys[-1]
            if key is None:
                if isinstance(value, str):
                    self.keys[-1] = value
                    self.colon = False
                    return
                self.fault(at, "a value has no name")
                key = ("", at)
            elif not self.colon:
                self.fault(at, "a colon is missing")
            if key in inside:
                self.fault(at, f"{key!r} stands twice in one object")
                key = (key, at)
            inside[key] = value
            self.keys[-1] = None
            self.colon = False
        else:
            inside.append(value)
        self.comma = True

    def bare(self, word: str, at: int) -> Any:
        if word in _WORDS:
            return _WORDS[word]
        try:
            return json.loads(word)
        except (ValueError, RecursionError):
            pass
        self.fault(at, f"{word[:40]!r} is no value")
        return word


def _unescaped(text: str) -> str:
    if "\\" not in text:
        return text

    def sign(match: re.Match[str]) -> str:
        return chr(int(match[1], 16)) if match[1] else _PLAIN.get(match[2], match[2])

    plain = _ESCAPE.sub(sign, text)
    # Signs beyond the first plane are written as two halves (RFC 8259, section 7); a half alone is no sign.
    return plain.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
