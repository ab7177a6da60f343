"""The text of a cue without what is no speech: tags, voices, times within the cue, escaped signs.

WebVTT: W3C, "WebVTT cue text" and its tags; SubRip: `<i>`, `<font ...>`, `{\\an8}`, common practice,
no source. Only tags those formats know are taken out: any other `<...>` may be words of the note (`<24 in`),
so it stays.
"""

from __future__ import annotations

import html
import re
from dataclasses import dataclass

from gutterance.notes.times import seconds_in

_TAG = re.compile(
    r"<(?P<time>\d+:\d{2}(?::\d{2})?[.,]\d{1,3})>"
    r"|<v(?:\.[^\s>]{0,40})?(?:[ \t](?P<voice>[^>\n]{0,80}))?>"
    r"|</?(?:c|i|b|u|s|lang|ruby|rt|v|font)(?:[. \t][^>\n]{0,80})?>"
    r"|\{\\[^}\n]{0,100}\}"
    r"|(?P<sign>&(?:[A-Za-z]{2,8}|\#\d{1,7}|\#[xX][0-9A-Fa-f]{1,6});)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of cue text with the voice that says it, and when it starts [s] if the cue says so."""

    text: str
    voice: str | None = None
    starts: float | None = None


def pieces_of(text: str) -> list[Piece]:
    """The words of a line of cue text, in pieces where a voice or a time within the cue begins.

    >>> pieces_of("<v Measurer><i>Front</i> 6 &lt; 7 <24 in>")
    [Piece(text='Front 6 < 7 <24 in>', voice='Measurer', starts=None)]
    """
    pieces: list[Piece] = []
    voice: str | None = None
    starts: float | None = None
    words: list[str] = []
    at = 0

    def close() -> None:
        if said := "".join(words):
            pieces.append(Piece(said, voice, starts))
        words.clear()

    for match in _TAG.finditer(text):
        words.append(text[at : match.start()])
        at = match.end()
        if match["time"]:
            close()
            starts = seconds_in(match["time"])
        elif match["voice"] is not None:
            close()
            voice = html.unescape(match["voice"].strip()) or None
        elif match["sign"]:
            words.append(html.unescape(match["sign"]))
    words.append(text[at:])
    close()
    return pieces
