"""What the trained reader looks at: what stands around a symbol, and what was told before it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.measure.tape import settle
from gutterance.reading.trained.symbols import LINE_END, pattern
from gutterance.reading.trained.telling import NUMBERS, run_key, task_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.trained.symbols import Symbol
    from gutterance.reading.trained.telling import Telling

NEAR, VERY_NEAR = 6, 4
"""How many symbols on either side are looked at, and how many of them also by their kind alone."""
TERMS, TERMS_WITHIN = 5, 32
"""How many trade terms on either side are looked at, and how far away."""


def around(symbols: Sequence[Symbol], at: int, *, metric: bool, sentences: bool) -> list[str]:
    """What stands around a symbol. `sentences` is whether the note has marks between its sentences."""
    symbol = symbols[at]
    me = symbol.key
    out = [f"me:{me}", f"x:{pattern(symbol.text)}", f"metric{metric:d}", f"marks{sentences:d}"]
    first, last = max(0, at - NEAR), min(len(symbols), at + NEAR + 1)
    for place in range(first, last):
        if place == at:
            continue
        step, key = place - at, symbols[place].key
        out.append(f"{step}:{key}")
        out.append(f"{'B' if step < 0 else 'A'}:{key}")
        if abs(step) <= VERY_NEAR:
            out.append(f"{step}k:{symbols[place].kind}")
        if abs(step) <= 2:
            out.append(f"{step}:{key}|{me}")
    keys = [symbols[place].key if 0 <= place < len(symbols) else "" for place in range(at - 3, at + 4)]
    out.append(f"b2:{keys[1]}|{keys[2]}")
    out.append(f"b3:{keys[0]}|{keys[1]}|{keys[2]}")
    out.append(f"a2:{keys[4]}|{keys[5]}")
    out.append(f"a3:{keys[4]}|{keys[5]}|{keys[6]}")
    out.append(f"ba:{keys[2]}|{keys[4]}")
    _terms(symbols, at, -1, "p", me, out)
    _terms(symbols, at, 1, "n", me, out)
    return out


def _terms(symbols: Sequence[Symbol], at: int, step: int, name: str, me: str, out: list[str]) -> None:
    """The trade terms and numbers before or behind, and how strongly each is parted from the symbol."""
    count = parted = 0
    place = at
    for _ in range(TERMS_WITHIN):
        place += step
        if not 0 <= place < len(symbols):
            return
        other = symbols[place]
        if other.soft:
            continue
        if other.parts:
            parted = max(parted, other.parts)
            continue
        count += 1
        out.append(f"{name}{count}:{other.key}")
        out.append(f"{name}{count}k:{other.kind}|{parted}")
        out.append(f"{name}:{other.key}|{parted}")
        if count <= 2:
            out.append(f"{name}{count}m:{other.key}|{parted}|{me}")
        if count == TERMS:
            return


def before(symbols: Sequence[Symbol], at: int, telling: Telling) -> list[str]:
    """What was told before a symbol: what the run spoken of has and lacks, and what was done last."""
    symbol = symbols[at]
    me, previous = symbol.key, symbols[at - 1].key if at else ""
    told = telling.runs.get(telling.current) if telling.current is not None else None
    acts = telling.acts
    state = "none"
    out = []
    if told is not None:
        last = [told.outlets[side] for side in telling.outlets if side in told.outlets]
        has = "".join(
            f"{name[0]}{all(name in one for one in last):d}"
            for name in ("height", "wall_to_fascia", "ends_at")
        )
        state = (
            f"L{min(told.lengths, 2)}e{told.left > 0:d}{told.right > 0:d}"
            f"o{min(len(told.outlets), 4)}{has if last else '-'}"
        )
        out.append(f"L{told.lengths > 0:d}|{me}")
        out.append(f"e{told.left > 0:d}{told.right > 0:d}|{me}")
        out.append(f"o{min(len(told.outlets), 4)}|{me}")
        if last:
            out.append(f"has:{has}|{me}")
    out += [
        f"S:{state}", f"S:{state}|{me}", f"S:{state}|{previous}", f"S:{state}|{acts[-1]}",
        f"1:{acts[-1]}", f"1:{acts[-1]}|{me}", f"1:{acts[-1]}|{previous}",
        f"2:{acts[-2]}{acts[-1]}", f"2:{acts[-2]}{acts[-1]}|{me}", f"3:{''.join(acts[-3:])}|{me}",
        f"since:{min((at - telling.since) // 4, 8)}", f"runs:{min(len(telling.runs), 4)}",
    ]  # fmt: skip
    lines = min(sum(other.kind == LINE_END for other in symbols[telling.since : at]), 4)
    out += [f"lines:{lines}", f"lines:{lines}|{me}"]
    if symbol.found is not None:
        out += _echo(_values(symbol, telling), telling, acts[-1])
    elif symbol.kind in ("end", "end word", "corner"):
        out += _echo({symbol.value}, telling, acts[-1])
    if task_of(symbol) in ("end", "place"):
        there = telling.side_there(symbol)
        out += [
            f"there:{there is not None:d}",
            f"there:{there is not None:d}|{acts[-1]}",
            f"there:{there is not None:d}|{previous}",
        ]
    if symbol.name is not None:
        same = telling.current is not None and run_key(telling.current) == run_key(symbol.name)
        known = telling.known(symbol.name) is not None
        part = f"{telling.part is not None:d}{symbol.context is not None:d}"
        behind = symbols[at + 1] if at + 1 < len(symbols) else None
        if behind is not None and behind.kind in ("lr", "side"):
            sided = telling.known(f"{symbol.name}-{behind.value}") is not None
            out.append(f"sided:{sided:d}|{me}")
        joined = telling.part is not None and telling.known(f"{telling.part}-{symbol.name}") is not None
        this = f"{same:d}{known:d}"
        out += [
            f"place:{this}", f"place:{this}|{me}", f"place:{this}|{state}", f"place:{this}|{previous}",
            f"part:{part}|{me}", f"joined:{joined:d}|{me}",
        ]  # fmt: skip
    return out


def _values(symbol: Symbol, telling: Telling) -> set[object]:
    """What a number may be as any field [in]."""
    assert symbol.found is not None
    reads = (settle(symbol.found, kind, metric=telling.metric) for kind in set(NUMBERS.values()))
    return {read.length.inches for read in reads if read is not None}


def _echo(values: set[object], telling: Telling, act: str) -> list[str]:
    """Whether the same value was told a little before: of what, of this run or another, how long ago."""
    for ago, (what, value, run) in enumerate(reversed(telling.said)):
        if value in values:
            ago, here = min(ago, 4), run == telling.current
            return [f"echo:{ago}{what}{here:d}", f"echo:{what}{here:d}", f"echo:{ago}|{act}"]
    return ["echo:no", f"echo:no|{act}"]
