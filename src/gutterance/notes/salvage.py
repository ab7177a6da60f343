"""The segments and words of a transcript whose brackets are broken: wherever they are, in their order."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.notes.broken_json import LINE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

_TEXTS = re.compile(r'"(text|word|punctuated_word|transcript)"\s*:\s*"((?:[^"\\\n]|\\.)*)')


_SAID = ("text", "word", "punctuated_word", "transcript")


def is_text_key(key: Any) -> bool:
    """Whether a key of an object, or what a fault made of it, names words that were said."""
    return (key[0] if isinstance(key, tuple) else key) in _SAID


def pieces_in(values: Iterable[Any]) -> Iterator[dict[Any, Any]]:
    """Each object that holds said words, flat and of its own: a segment with its words, or a word.

    An object that holds segments is no segment: its `text` is that of the whole. The way down is a list, so
    depth does no harm.
    """
    waiting = list(values)[::-1]
    while waiting:
        value = waiting.pop()
        if isinstance(value, list):
            waiting += value[::-1]
            continue
        if not isinstance(value, dict):
            continue
        said = [text for key, text in value.items() if is_text_key(key) and isinstance(text, str)]
        inner = [one for key, one in value.items() if isinstance(one, dict | list) and key != "words"]
        words = value.get("words") if isinstance(value.get("words"), list) else []
        own = [one for one in words or [] if _is_word(one)]
        if said and not any(key in value for key in ("segments", "utterances")):
            plain = {
                key: one
                for key, one in value.items()
                if not isinstance(one, dict | list) and not isinstance(key, tuple)
            }
            if not any(isinstance(plain.get(key), str) for key in _SAID):
                plain["text"] = said[0]
            yield {**plain, "words": own} if own else plain
            for text in said[1:]:
                yield {"text": text, LINE: value.get(LINE, 1)}
        else:
            waiting += own[::-1]
        waiting += inner[::-1]
        waiting += [one for one in words or [] if not _is_word(one)][::-1]


def texts_in(raw: str) -> list[tuple[str, str]]:
    """Every (key, text) that looks like said words in the characters of a file, however broken."""
    return [(match[1], match[2]) for match in _TEXTS.finditer(raw)]


def is_single(one: dict[Any, Any]) -> bool:
    """Whether a piece is one word of an utterance, not an utterance."""
    return "words" not in one and _is_word(one)


def _is_word(one: Any) -> bool:
    if not isinstance(one, dict):
        return False
    said = [text for key, text in one.items() if is_text_key(key) and isinstance(text, str)]
    deep = any(isinstance(inner, dict | list) for inner in one.values())
    return not deep and len(said) == 1 and len(said[0].split()) <= 1
