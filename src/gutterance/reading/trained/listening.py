"""A note read by the trained reader: each symbol in turn, by what stands around it and was told before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.trained.features import around, before
from gutterance.reading.trained.telling import NAMING, NONE, OF_PIPES, OUTLET_THERE, Telling, task_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from gutterance.reading.trained.symbols import Symbol
    from gutterance.reading.trained.telling import Claim

    Decide = Callable[[str, list[str]], tuple[str, float]]

MARKED = 40
"""A note with a mark between its sentences or words in so many symbols is written with marks."""


def has_sentences(symbols: Sequence[Symbol]) -> bool:
    """Whether a note has marks between its sentences: a phone's dictation often has none."""
    return sum(symbol.text in (".", ",") for symbol in symbols) * MARKED > len(symbols)


def listen(symbols: list[Symbol], *, metric: bool) -> list[Claim]:
    """What a note claims, in the order in which it says it: of two claims of one value the later holds."""
    from gutterance.reading.trained.weights import trained_weights

    weights = trained_weights()
    return listen_by(symbols, lambda task, features: weights[task].decide(features), metric=metric)


def listen_by(symbols: list[Symbol], decide: Decide, *, metric: bool) -> list[Claim]:
    """The same with any way to decide between the actions of a task by its features."""
    telling = Telling(metric=metric)
    sentences = has_sentences(symbols)
    for at, symbol in enumerate(symbols):
        task = task_of(symbol)
        if task is None:
            continue
        features = around(symbols, at, metric=metric, sentences=sentences) + before(symbols, at, telling)
        action, sure = decide(task, features)
        scope = ""
        if task == "place":
            telling.pass_place(symbol)
        if action in OF_PIPES or (task == "ends at" and action != NONE):
            scope, of_scope = decide("scope", features)
            sure *= of_scope
        act(telling, symbols, at, action, scope, sure)
    telling.close()
    return telling.claims


def act(telling: Telling, symbols: list[Symbol], at: int, action: str, scope: str, sure: float) -> None:
    """Do what was decided about a symbol."""
    symbol, task = symbols[at], task_of(symbols[at])
    if action == NONE:
        return
    if action in NAMING:
        name = telling.name_of(symbols, at, action)
        if name is not None:
            telling.focus(symbol, at, name, sure)
    elif action == OUTLET_THERE:
        side = telling.side_there(symbol)
        if side is not None:
            telling.outlet(symbol, side, sure)
    elif task == "number":
        telling.number(symbol, action, scope, sure)
    elif task == "end":
        telling.end(symbol, action, sure)
    elif task == "outlet":
        telling.outlet(symbol, action, sure)
    elif task == "ends at":
        telling.ends_at(symbol, scope, sure)
    elif task == "ditto":
        telling.ditto(symbol, action, telling.run_of_ditto(symbols, at), sure)
