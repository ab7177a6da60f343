"""What a shorthand note's rows say, put into the walk: every value with the very characters that say it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.reading.builder import OutletDraft, RunDraft, copied_apart
from gutterance.reading.shorthand.facts import Said
from gutterance.reading.sizes import pipe_size
from gutterance.sheet.models import Reading, Source, Total

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line
    from gutterance.reading.shorthand.facts import Number, PipeFacts, RunFacts
    from gutterance.reading.shorthand.note import Reading as Rows
    from gutterance.reading.shorthand.tokens import Token

PLAIN = 90
LOOSE = "{} in its row was not understood"


def put_line(number: int, rows: Rows, walk: Walk, line: Line) -> None:
    """Put the runs and totals of a line into the walk, the runs with all that is told of their pipes."""
    for facts in rows.runs:
        if facts.line == number:
            _put_run(facts, walk, rows)
    for total in rows.totals:
        if total.line != number:
            continue
        source = line.source(total.start, total.end)
        walk.use_source(source)
        walk.totals.append(Total(what=total.what, value=Reading[Any](value=total.count, source=[source])))
    for token in rows.shown:
        if token.line == number:
            walk.shown.append(_source(token))


def _source(token: Token) -> Source:
    return Source(line=token.line, start=token.start, end=token.end, text=token.text)


def _put_run(facts: RunFacts, walk: Walk, rows: Rows) -> None:
    run = walk.focus(facts.name, None)
    run.tabled = run.in_rows = True
    run.source += [_source(token) for token in facts.tokens]
    why = [LOOSE.format(repr(token.text)) for token in facts.loose if token.kind in ("number", "size")]
    doubt = facts.name_doubt
    if facts.length is not None:
        _put_number(run.fields, "length", facts.length, walk, doubt)
    for side, said in facts.ends.items():
        run.fields[f"{side}_end"] = _said(said, walk, doubt)
        if said.angle not in (None, PLAIN):
            run.fields[f"{side}_angle"] = _said(said, walk, doubt, value=said.angle)
    if not facts.ends:
        for side, said in zip(("left", "right"), facts.unsided, strict=False):
            run.fields[f"{side}_end"] = _said(said, walk, "one sign for an end, and which end is not told")
    if facts.dry is not None:
        run.no_outlet = _source(facts.dry.tokens[0])
        walk.shown += [_source(token) for token in facts.dry.tokens]
    for pipe in facts.pipes:
        _put_pipe(pipe, run, walk, rows, "; ".join(why) or None)


def _put_pipe(pipe: PipeFacts, run: RunDraft, walk: Walk, rows: Rows, why: str | None) -> None:
    draft = OutletDraft(source=_sources(pipe.tokens))
    if pipe.side is not None:
        draft.place = _said(pipe.side, walk, pipe.doubt)
        draft.place.source += [source for source in draft.source if source not in draft.place.source]
    if pipe.distance is not None:
        _put_number({}, "distance", pipe.distance, walk, pipe.doubt, into=draft)
    for what, number in pipe.numbers.items():
        _put_number(draft.pipe.fields, what, number, walk, why)
    if pipe.ending is not None:
        draft.pipe.fields["ends_at"] = _said(pipe.ending, walk, why)
    if pipe.size is not None:
        item = pipe.size.item()
        value = pipe_size(item)
        if value is not None:
            draft.pipe.fields["size"] = Reading[Any](value=value, source=[item.source()])
    for what, said in rows.scopes:
        if isinstance(said, Said):
            draft.pipe.fields.setdefault("ends_at", _said(said, walk, None))
        elif what not in draft.pipe.fields:
            _put_number(draft.pipe.fields, what, said, walk, None)
    run.outlets.append(draft)


def _sources(tokens: list[Token]) -> list[Source]:
    found: list[Source] = []
    for token in tokens:
        source = _source(token)
        if source not in found:
            found.append(source)
    return found


def _said(said: Said, walk: Walk, doubt: str | None, value: Any = None) -> Reading[Any]:
    items = [token.item() for token in said.tokens]
    reading = walk.text(said.value if value is None else value, *items)
    _doubt(reading, said.doubt, doubt)
    return reading


def _doubt(reading: Reading[Any], *reasons: str | None) -> None:
    told = [reason for reason in reasons if reason]
    if told:
        reading.status = "doubtful"
        reading.why = "; ".join([*told, *([reading.why] if reading.why else [])])


def _put_number(
    fields: dict[str, Reading[Any]], what: str, number: Number, walk: Walk, why: str | None,
    *, into: OutletDraft | None = None,
) -> None:  # fmt: skip
    item = number.token.item()
    reading = walk.length(item, what)
    if reading is None:
        return
    reading = copied_apart(reading)
    _doubt(reading, number.doubt, why)
    if number.copied:
        reading.why = f"{number.copied}; {reading.why}" if reading.why else number.copied
    if into is not None:
        into.distance = reading
    else:
        fields[what] = reading
