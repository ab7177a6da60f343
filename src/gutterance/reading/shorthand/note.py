"""A shorthand note as a whole: which of its lines are rows of runs, of pipes, of one measure, totals, key."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from gutterance.reading.places import LR_SIDE, PlaceName
from gutterance.reading.shorthand.facts import Number, PipeFacts, RunFacts, Said
from gutterance.reading.shorthand.names import JOINTS, read_name
from gutterance.reading.shorthand.row import Context, Row, Uncued, can_be, can_be_run, give_endings
from gutterance.reading.shorthand.tokens import FEET_AND_INCHES, Token, tokens_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.number_style import NumberStyle
    from gutterance.reading.shorthand.key import Key

TABLE_LABELS = {
    "ht": "height", "h": "height", "hgt": "height", "dn": "height", "down": "height", "drop": "height",
    "wf": "wall_to_fascia", "w/f": "wall_to_fascia", "oh": "wall_to_fascia", "o/h": "wall_to_fascia",
    "out": "wall_to_fascia", "to": "ending", "ends": "ending", "end": "ending", "into": "ending",
    "goes": "ending", "discharge": "ending", "@": "side", "at": "side", "run": "run", "on": "run",
    "size": "size", "sz": "size",
}  # fmt: skip
"""What heads a column of a table of pipes."""
COUNTED = {
    "r": "runs", "run": "runs", "runs": "runs", "rns": "runs", "lengths": "runs", "dp": "downpipes",
    "dps": "downpipes", "ds": "downpipes", "d": "downpipes", "rwp": "downpipes", "rwps": "downpipes",
    "pipes": "downpipes", "dn": "downpipes", "spouts": "downpipes", "o/l": "outlets", "outlets": "outlets",
}  # fmt: skip
"""What a total counts."""
TOTAL = re.compile(r"(?<![\w.'-])(?P<count>\d{1,2})\s?(?P<what>[A-Za-z/]+)(?![\w'])")
TOTAL_LINE = re.compile(
    r"\A\s*(?:[=Σ∑]|tot\w*\b|all told\b|sum\b|count\b|\d{1,2}\s?(?:dp|ds|rwp|runs?)s?\b)", re.I
)
HOUSE = frozenset({"h", "hs", "hse", "house", "main"})
FEWEST_NUMBERED = 3
SHORT_LINE = 64
"""A longer line [characters] is no row."""
SENTENCES = re.compile(r"[a-z]{2}[.!?]\s+[A-Z][a-z]+\s")
"""A line of sentences is no row."""


@dataclass(slots=True)
class Total:
    """A count of the job as said."""

    what: str
    count: int
    line: int
    start: int
    end: int


@dataclass(slots=True)
class Reading:
    """What the rows of a note say, the stretches of lines that say it, and what of them found no place."""

    runs: list[RunFacts] = field(default_factory=list)
    totals: list[Total] = field(default_factory=list)
    lines: set[int] = field(default_factory=set)
    keys: set[int] = field(default_factory=set)
    partly: dict[int, int] = field(default_factory=dict)
    beside: dict[int, int] = field(default_factory=dict)
    shown: list[Token] = field(default_factory=list)
    scopes: list[tuple[str, Number | Said]] = field(default_factory=list)
    uncued: list[Uncued] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)

    def run(self, name: PlaceName) -> RunFacts | None:
        """The run of that name."""
        return next((run for run in self.runs if run.name == name), None)

    def pipes(self) -> list[PipeFacts]:
        """All the pipes of the note."""
        return [pipe for run in self.runs for pipe in run.pipes]


class NoteReader:
    """Reads the rows of a note in order."""

    def __init__(
        self, texts: Sequence[str], key: Key, context: Context, style: NumberStyle, *, joined: bool
    ) -> None:
        self.texts, self.key, self.context, self.joined = texts, key, context, joined
        self.style = style
        self.meanings = context.meanings
        self.out = Reading()
        self.columns: list[str] = []
        self.header: list[list[PipeFacts]] = []
        self.last_row: list[PipeFacts] = []
        self.rear = False
        self.later: list[int] = []
        self.makes = True
        self.lines = [self._tokens(number, text) for number, text in enumerate(texts, start=1)]

    def _tokens(self, number: int, text: str) -> list[Token]:
        spans = [(start, end) for line, start, end in self.key.spans if line == number]
        tokens = tokens_of(text, number, self.meanings, self.style, joined=self.joined)
        if text.count("|") > 1 and not self.meanings.explained("|"):
            tokens = _without_bars(tokens)
        return [one for one in tokens if not any(start <= one.start < end for start, end in spans)]

    def read(self) -> Reading:
        """Read the note."""
        keyed = {line for line, _, _ in self.key.spans}
        self._name_by_number()
        self.rear = self._rear_by_r()
        opened = {tokens[0].text.lower() for tokens in self.lines if tokens}
        self.context.storeys = bool(opened & {"u", "up", "upr", "upper"}) and len(opened) > 1
        for number, tokens in enumerate(self.lines, start=1):
            if number in keyed:
                self.out.keys.add(number)
                first = min(start for line, start, _ in self.key.spans if line == number)
                if len(self.texts[number - 1][:first].split()) > 1:
                    self.out.beside[number] = first
                self.later.append(number)
            elif not tokens:
                self.columns, self.header = [], []
            elif SENTENCES.search(self.texts[number - 1]) is not None or (
                len(self.texts[number - 1]) > SHORT_LINE and not self._dense(tokens)
            ):
                continue
            elif (
                self._head(tokens, number)
                or self._table_row(tokens, number)
                or self._run_row(tokens, number)
                or self._total(tokens, number)
                or (self.header and self._cue_row(tokens, number))
            ) or self._goes_on(tokens, number):
                self.out.lines.add(number)
            elif self._all_at(tokens) or self._is_cue_row(tokens):
                self.later.append(number)
            elif self._pipe_row(tokens, number):
                self.out.lines.add(number)
        for number in self.later:
            tokens = self.lines[number - 1]
            if tokens and (
                self._of_all(tokens, number)
                or self._cue_row(tokens, number)
                or self._pipe_row(tokens, number)
            ):
                self.out.lines.add(number)
        return self.out

    @staticmethod
    def _dense(tokens: list[Token]) -> bool:
        """Whether a long line is a row all the same: few of its words are long."""
        words = [one for one in tokens if one.kind == "word" and len(one.text) > 3]
        return len(words) * 4 < len(tokens)

    # -------------------------------------------------------------- names

    def _name_by_number(self) -> None:
        """Whether rows open with 1, 2, 3 or with a, b, c, each with a length behind."""
        opened = [
            tokens[0].text
            for tokens in self.lines
            if len(tokens) > 1 and tokens[1].is_number and tokens[1].gap
        ]
        numbers = [int(one) for one in opened if one.isdecimal()]
        if numbers[:FEWEST_NUMBERED] == list(range(1, FEWEST_NUMBERED + 1)):
            self.context.numbered = True
        letters = [one.lower() for one in opened if len(one) == 1 and one.isalpha()]
        if letters[:FEWEST_NUMBERED] == ["a", "b", "c"]:
            self.context.lettered = True

    def _rear_by_r(self) -> bool:
        """Whether `R` names the rear: beside a front, and beside sides that have names of their own."""
        opened = {
            token.text.lower()
            for tokens in self.lines
            for token in tokens
            if token.kind == "word" and (token is tokens[0] or token.gap > 1)
        }
        back = {"b", "bk", "bck", "back", "rear", "rr", "re"}
        return (
            "r" in opened
            and not opened & back
            and bool(opened & {"f", "fr", "frt", "ft"})
            and "l" not in opened
        )

    def _name(self, tokens: list[Token], at: int) -> tuple[PlaceName, int] | None:
        named = read_name(
            tokens, at, self.meanings, numbered=self.context.numbered, lettered=self.context.lettered,
            storeys=self.context.storeys,
        )  # fmt: skip
        if (
            named is not None
            and self.rear
            and tokens[at].text.lower() == "r"
            and named[0].direction == "right side"
        ):
            return replace(named[0], direction="back"), named[1]
        return named

    # -------------------------------------------------------------- rows of runs

    def _run_row(self, tokens: list[Token], number: int) -> bool:
        at = 0
        if (
            tokens[0].digits is not None
            and len(tokens) > 1
            and tokens[1].text in (")", ".")
            and tokens[1].glued
        ):
            at = 2
        if tokens[0].text in ("•", "*") or (tokens[0].text == "-" and len(tokens) > 1):
            at = 1
        named = self._name(tokens, at)
        if named is None:
            return False
        name, behind = named
        while behind < len(tokens) and tokens[behind].text in (":", "=", "-", "–", "."):
            behind += 1
        behind = self._past_aside(tokens, behind)
        against = self.meanings.of(tokens[behind].text) if behind < len(tokens) else {}
        if against and tokens[behind].glued and "name" in against and "end" not in against:
            return False
        if self._same_row(tokens, at, name, behind, number):
            return True
        if not self._opens_with_length(tokens, behind):
            return False
        known = self.out.run(name)
        if known is not None and known.length is not None:
            return False
        rest = self._next_run(tokens, behind)
        more, tokens = tokens[rest:], tokens[:rest]
        facts = known or RunFacts(name, tokens[at:behind], number)
        if known is None:
            self.out.runs.append(facts)
        if self.rear and name.direction == "back" and tokens[at].text.lower() == "r":
            facts.name_doubt = "'R' was taken for the rear"
        row = Row(tokens, behind, facts, self.context, new=True)
        row.read()
        self._around(row, facts, number)
        self._keep(row)
        self.out.rows.append(number)
        if more and not self._run_row(more, number):
            facts.loose += [one for one in more if one.kind != "sign"]
        return True

    def _next_run(self, tokens: list[Token], behind: int) -> int:
        """Where a second run begins in the row of the first: `F1 14-2 ec/ic   R1 4-0 ic/oc`."""
        for place in range(behind + 1, len(tokens)):
            if tokens[place].gap < 2:
                continue
            slots = self.meanings.of(tokens[place].text)
            if "name" not in slots or "cue" in slots:
                continue
            named = self._name(tokens, place)
            if named is None or not self._opens_with_length(tokens, named[1]):
                continue
            known = self.out.run(named[0])
            if named[0].direction is not None and (known is None or known.length is None):
                return place
        return len(tokens)

    def _same_row(self, tokens: list[Token], at: int, name: PlaceName, behind: int, number: int) -> bool:
        """`rear - same, dp R`: the run before told once more, but for what the row itself says."""
        if behind >= len(tokens) or "same" not in self.meanings.of(tokens[behind].text) or not self.out.runs:
            return False
        if self.out.run(name) is not None or self.context.numbered:
            return False
        like, sign, place = self.out.runs[-1], tokens[behind], behind + 1
        if place < len(tokens) and tokens[place].text.lower() == "as":
            place += 1
            named = self._name(tokens, place)
            other = self.out.run(named[0]) if named is not None else None
            if other is None or named is None:
                return False
            like, place = other, named[1]
        if like.length is None or like.loose:
            return False
        why = f"same as the {like.name.name}"
        facts = RunFacts(name, tokens[at:behind], number)
        facts.length = replace(like.length, copied=why)
        facts.ends = {side: replace(said, tokens=[*said.tokens, sign]) for side, said in like.ends.items()}
        row = Row(tokens, place, facts, self.context, new=True)
        row.read()
        if facts.loose or facts.unsided:
            return False
        facts.like, facts.sign = like, sign
        self.out.runs.append(facts)
        self.out.rows.append(number)
        self._keep(row)
        return True

    def copy_due(self) -> None:
        """What `same` says of the pipes of a run, once all is told of the other's."""
        for facts in self.out.runs:
            like, sign = facts.like, facts.sign
            if like is None or sign is None:
                continue
            why = f"same as the {like.name.name}"
            told = {
                (tuple((what, number.token.text) for what, number in sorted(pipe.numbers.items())),
                 pipe.ending and pipe.ending.value)
                for pipe in like.pipes
            }  # fmt: skip
            if facts.pipes or facts.dry is not None:
                for pipe in facts.pipes if len(told) == 1 else ():
                    self._copy(like.pipes[0], [pipe], sign)
                continue
            for pipe in like.pipes:
                numbers = {what: replace(value, copied=why) for what, value in pipe.numbers.items()}
                facts.pipes.append(replace(pipe, numbers=numbers, ident=None, tokens=[*pipe.tokens, sign]))

    def _past_aside(self, tokens: list[Token], at: int) -> int:
        """`bay (own rf, on N) w820`: the token behind words in brackets."""
        if at < len(tokens) and tokens[at].text == "(" and not self.meanings.explained("("):
            close = next((place for place in range(at, len(tokens)) if tokens[place].text == ")"), None)
            return at if close is None else close + 1
        return at

    def _opens_with_length(self, tokens: list[Token], at: int) -> bool:
        """Whether a length stands there, behind the sign of an end it may be."""
        if at < len(tokens) and not tokens[at].is_number and "end" in self.meanings.of(tokens[at].text):
            at += 1
            if at < len(tokens) and "end" in self.meanings.of(tokens[at].text) and not tokens[at].is_number:
                at += 1
        return (
            at < len(tokens) and tokens[at].is_number and can_be_run(tokens[at], metric=self.context.metric)
        )

    def _around(self, row: Row, facts: RunFacts, number: int) -> None:
        """The three runs round a bay, where one row tells the lengths of all."""
        if not row.more:
            return
        if len(row.more) != 2 or facts.name.direction is not None or facts.length is None:
            facts.loose += [token for token, _ in row.more]
            facts.unsided += [*row.before, *row.after]
            return
        corners = [said[0] if said else None for _, said in row.more]
        first = row.before[0] if row.before else None
        last = row.after[-1] if row.after else None
        names = ["left side", "front", "right side"]
        lengths = [facts.length, *(Number(token) for token, _ in row.more)]
        made = [
            RunFacts(replace(facts.name, direction=name), facts.tokens, number, length)
            for name, length in zip(names, lengths, strict=True)
        ]
        for run, left, right in zip(made, [first, *corners], [*corners, last], strict=True):
            if left is not None:
                run.ends["left"] = left
            if right is not None:
                run.ends["right"] = right
        for pipe in facts.pipes:
            side = pipe.side.value if pipe.side is not None else None
            run = made[{"left": 0, "right": 2}.get(side or "", 1)]
            run.pipes.append(pipe)
        made[1].loose = facts.loose
        place = self.out.runs.index(facts)
        self.out.runs[place : place + 1] = made

    def _keep(self, row: Row) -> None:
        self.out.uncued += row.uncued

    # -------------------------------------------------------------- rows of pipes

    def _refs(self, tokens: list[Token], at: int) -> tuple[list[PipeFacts], int] | None:
        """The pipes that names or numbers say from a token on: `S/l`, `d3`, `FL + FR`, `hse`."""
        found: list[PipeFacts] = []
        place = at
        while place < len(tokens):
            one = self._ref(tokens, place)
            if one is None:
                break
            pipes, place = one
            found += [pipe for pipe in pipes if pipe not in found]
            if place + 1 < len(tokens) and tokens[place].text in ("+", "&", ",", "and"):
                if self._ref(tokens, place + 1) is None:
                    break
                place += 1
                continue
            break
        return (found, place) if place > at else None

    def _ref(self, tokens: list[Token], at: int) -> tuple[list[PipeFacts], int] | None:
        token = tokens[at]
        if token.text.lower() == "fr" and any(
            one.text.lower() == "fl" for line in self.lines for one in line
        ):
            return self._pipes_named(PlaceName(direction="front right"), at + 1, tokens)
        ident = token.text.lower()
        place = at
        if "pipe" in self.meanings.of(token.text) and at + 1 < len(tokens):
            number = tokens[at + 1]
            if number.glued and number.digits is not None:
                ident, place = number.text, at + 1
        by_ident = [pipe for pipe in self.out.pipes() if pipe.ident is not None and pipe.ident == ident]
        if by_ident:
            return by_ident, place + 1
        if (
            "house" in (self.meanings.of(token.text).get("name") or Said("", [])).value
            and self._name(tokens, at) is None
        ):
            return [pipe for run in self.out.runs if run.name.part is None for pipe in run.pipes], at + 1
        if "pipe" in self.meanings.of(token.text) and at + 1 < len(tokens):
            at += 1
            if tokens[at].text in ("@", "on", ":", "-"):
                at += 1
        named = self._name(tokens, at) if at < len(tokens) else None
        if named is None:
            return None
        return self._pipes_named(*named, tokens)

    def _pipes_named(
        self, name: PlaceName, behind: int, tokens: list[Token]
    ) -> tuple[list[PipeFacts], int] | None:
        """The pipes of the run of that name, at the side that stands behind it."""
        run = self.out.run(name)
        side: str | None = None
        words = (name.direction or "").split()
        if (
            run is None
            and len(words) == 2
            and words[1] in ("left", "right")
            and words[0] in ("front", "back")
        ):
            run, side = self.out.run(replace(name, direction=words[0])), words[1]
        if run is None and name.part and name.direction in LR_SIDE.values():
            run, side = self.out.run(replace(name, direction=None)), words[0]
        runs = [run] if run is not None else []
        if run is None and name.part and name.direction is None:
            runs = [one for one in self.out.runs if one.name.part == name.part]
        if not runs:
            return None
        place = behind
        if side is None and place < len(tokens):
            jump = (
                place + 1 if tokens[place].text in (*JOINTS, "@", "+") and place + 1 < len(tokens) else place
            )
            probe = Row(tokens, jump, runs[0], self.context, new=False)
            said = probe._side_of(tokens[jump])
            glued = tokens[jump].gap <= 1
            if said is not None and said.value in ("left", "right", "centre", "both") and glued:
                side, place = said.value, jump + 1
        found: list[PipeFacts] = []
        for one in runs:
            at_side = [
                pipe
                for pipe in one.pipes
                if side in (None, "both") or (pipe.side and pipe.side.value == side)
            ]
            if not at_side and side not in (None, "both") and len(runs) == 1 and self.makes:
                made = PipeFacts(
                    side=Said(str(side), tokens[behind:place]), tokens=tokens[:place],
                    doubt="no outlet was told there before" if one.pipes else None,
                )  # fmt: skip
                one.pipes.append(made)
                at_side = [made]
            elif not at_side and len(runs) == 1 and side is None and one.dry is None and self.makes:
                made = PipeFacts(tokens=tokens[:place])
                one.pipes.append(made)
                at_side = [made]
            found += at_side
        return found, place

    def _pipe_row(self, tokens: list[Token], number: int) -> bool:
        """`↓S/l h2700 o450→sw`: what is measured of pipes told before."""
        known = [len(run.pipes) for run in self.out.runs]
        if "pipe" in self.meanings.of(tokens[0].text) and len(tokens) > 1 and tokens[1].text in (":", "-"):
            tokens = tokens[2:]
        if tokens and "except" in self.meanings.of(tokens[0].text):
            tokens = tokens[1:]
        refs = self._refs(tokens, 0) if tokens else None
        if refs is None or not refs[0]:
            return False
        pipes, at = refs
        if not self._tells_values(tokens[at:]):
            for run, count in zip(self.out.runs, known, strict=True):
                del run.pipes[count:]
            return False
        while at < len(tokens) and tokens[at].text in (":", "=", "-", "–"):
            at += 1
        stop = self._next_ref(tokens, at)
        self._values_of(pipes, tokens[:stop], at, number)
        if stop < len(tokens):
            rest = tokens[stop:]
            if not self._pipe_row(rest, number):
                self._loose_all(pipes, rest)
        return True

    def _next_ref(self, tokens: list[Token], at: int) -> int:
        """Where another pipe is named behind the values of one: `Fl 2.45/.35/g  Fr 2.45/.35/g`."""
        for place in range(at + 1, len(tokens)):
            before = tokens[place - 1]
            turns = place == at + 1 and before.is_number and place + 1 < len(tokens)
            if turns and tokens[place + 1].is_number and "name" in self.meanings.of(tokens[place].text):
                return place  # `f 9 b 11`
            if tokens[place].gap < 2 and before.text not in (",", ";"):
                continue
            if "name" not in self.meanings.of(tokens[place].text) and "quarter" not in self.meanings.of(
                tokens[place].text
            ):
                continue
            if "ending" in self.meanings.of(tokens[place].text) and place + 1 >= len(tokens):
                continue
            named = self._name(tokens, place)
            if named is not None and named[1] < len(tokens) and self._tells_values(tokens[named[1] :]):
                return place
        return len(tokens)

    def _loose_all(self, pipes: list[PipeFacts], tokens: list[Token]) -> None:
        for token in tokens:
            if token.kind != "sign":
                self._loose(pipes, token)

    def _tells_values(self, tokens: list[Token]) -> bool:
        """Whether words behind a name measure something, and are not only a remark."""
        words = [one for one in tokens if one.kind == "word"]
        known = [
            one for one in words
            if {"cue", "ending", "to", "same"} & set(self.meanings.of(one.text))
        ]  # fmt: skip
        numbers = [one for one in tokens if one.is_number]
        unknown = [one for one in words if not self.meanings.of(one.text)]
        return bool(numbers or known) and len(unknown) <= 1 and bool(known or len(numbers) > 1)

    def _values_of(self, pipes: list[PipeFacts], tokens: list[Token], at: int, number: int) -> None:
        if at < len(tokens) and "same" in self.meanings.of(tokens[at].text) and self.last_row:
            self._copy(self.last_row[0], pipes, tokens[at])
            at += 1
        owner = next((run for run in self.out.runs if any(pipe in run.pipes for pipe in pipes)), None)
        facts = RunFacts(owner.name if owner else PlaceName(), tokens[:at], number)
        facts.pipes = list(pipes)
        row = Row(tokens, at, facts, self.context, new=False)
        row.current = list(pipes)
        row.read()
        for pipe in pipes:
            pipe.tokens += tokens[:at]
        if facts.size is not None:
            for pipe in pipes:
                pipe.size = facts.size
        for pipe in facts.pipes:
            if pipe not in pipes and owner is not None:
                owner.pipes.append(pipe)
        if owner is not None:
            owner.loose += facts.loose
        self._keep(row)
        self.last_row = pipes

    @staticmethod
    def _copy(before: PipeFacts, pipes: list[PipeFacts], sign: Token) -> None:
        for pipe in pipes:
            pipe.tokens.append(sign)
            for what, number in before.numbers.items():
                pipe.numbers.setdefault(what, replace(number, copied="same as the one before"))
            if before.ending is not None and pipe.ending is None:
                pipe.ending = Said(before.ending.value, [*before.ending.tokens, sign], before.ending.doubt)

    # -------------------------------------------------------------- tables

    def _head(self, tokens: list[Token], number: int) -> bool:
        """`d  ht/wf/to` over a table of pipes, or `DS  F-R  B-L` over columns of them."""
        del number
        words = [one for one in tokens if one.kind == "word"]
        if any(one.kind in ("number", "size") for one in tokens) and not self._across(tokens):
            return False
        labels = [(self._label(word), word) for word in words]
        told = [label for label, _ in labels if label in ("height", "wall_to_fascia", "ending")]
        if len(told) >= 2 and len(labels) - len([one for one, _ in labels if one]) <= 1:
            self.columns = [label for label, _ in labels if label]
            self.header = []
            return True
        return self._across(tokens, keep=True)

    def _label(self, word: Token) -> str | None:
        low = word.text.lower()
        cue = self.meanings.of(word.text).get("cue")
        if low in TABLE_LABELS:
            return TABLE_LABELS[low]
        return cue.value if cue is not None and cue.why is None else None

    def _across(self, tokens: list[Token], *, keep: bool = False) -> bool:
        """Whether a line is a word for pipes and nothing but the pipes by their places."""
        if "pipe" not in self.meanings.of(tokens[0].text) or len(tokens) < 3:
            return False
        refs: list[list[PipeFacts]] = []
        at = 1
        counts = [len(run.pipes) for run in self.out.runs]
        while at < len(tokens):
            one = self._ref(tokens, at)
            if one is None or not one[0]:
                break
            refs.append(one[0])
            at = one[1]
        whole = at >= len(tokens) and len(refs) > 1
        if not whole or not keep:
            for run, count in zip(self.out.runs, counts, strict=False):
                del run.pipes[count:]
        if whole and keep:
            self.header, self.columns = refs, []
        return whole

    def _table_row(self, tokens: list[Token], number: int) -> bool:
        if not self.columns:
            return False
        refs = self._refs(tokens, 0)
        if refs is None or not refs[0]:
            return False
        pipes, at = refs
        rest = tokens[at:]
        if rest and "same" in self.meanings.of(rest[0].text):
            self._values_of(pipes, tokens, at, number)
            return True
        cells = [one for one in rest if one.text not in ("/", "|", ",", ";", "-") or one.kind != "sign"]
        columns = [label for label in self.columns if label not in ("run", "side")]
        used = 0
        for label in columns:
            if used >= len(cells):
                break
            cell = cells[used]
            if label == "ending":
                ending = self.meanings.of(cell.text).get("ending")
                if ending is None:
                    continue
                give_endings(pipes, [Said(ending.value, [cell], ending.why)])
            elif label in ("height", "wall_to_fascia"):
                if not cell.is_number:
                    continue
                odd = None if can_be(cell, label, metric=self.context.metric) else "of no usual size"
                for pipe in pipes:
                    pipe.numbers.setdefault(label, Number(cell, odd))
            used += 1
        for cell in cells[used:]:
            if cell.kind == "size":
                for pipe in pipes:
                    pipe.size = cell
            elif cell.kind == "number":
                self._loose(pipes, cell)
        for pipe in pipes:
            pipe.tokens += tokens[:at]
        self.last_row = pipes
        return True

    def _loose(self, pipes: list[PipeFacts], token: Token) -> None:
        owner = next((run for run in self.out.runs if any(pipe in run.pipes for pipe in pipes)), None)
        if owner is not None:
            owner.loose.append(token)

    # -------------------------------------------------------------- one measure of many pipes

    def _all_at(self, tokens: list[Token]) -> int:
        """Behind how many tokens the values of all pipes stand: `V all h2650`; 0 where they do not."""
        slots = [self.meanings.of(one.text) for one in tokens[:2]]
        if len(slots) == 2 and "pipe" in slots[0] and "all" in slots[1] and len(tokens) > 2:
            return 2
        return 1 if slots and "all" in slots[0] and "cue" not in slots[0] and len(tokens) > 2 else 0

    def _of_all(self, tokens: list[Token], number: int) -> bool:
        at = self._all_at(tokens)
        pipes = self.out.pipes()
        if not at or not pipes or not self._tells_values(tokens[at:]):
            return False
        one = PipeFacts()
        facts = RunFacts(PlaceName(), tokens[:at], number, pipes=[one])
        row = Row(tokens, at, facts, self.context, new=False)
        row.current = [one]
        row.read()
        if facts.loose or row.uncued or one.side is not None:
            return False
        for what, value in one.numbers.items():
            self.out.scopes.append((what, value))
        if one.ending is not None:
            self.out.scopes.append(("ending", one.ending))
        return True

    def _goes_on(self, tokens: list[Token], number: int) -> bool:
        """An indented line below a run's row, of more than one measure: it goes on with that run's pipes."""
        last = self.out.runs[-1] if self.out.runs else None
        if last is None or tokens[0].start == 0 or not tokens[0].gap:
            return False
        cues = {
            "ending" if slots.get("ending") or slots.get("to") else "cue"
            for one in tokens
            if (slots := self.meanings.of(one.text)) and {"cue", "ending", "to"} & set(slots)
        }  # fmt: skip
        head = self.meanings.of(tokens[0].text)
        above = next((line for line in range(number - 1, 0, -1) if self.texts[line - 1].strip()), 0)
        flush = not self.texts[above - 1][:1].isspace() if above else False
        if "pipe" in head and self.out.rows and (above in self.out.rows or not flush):
            row = Row(tokens, 0, last, self.context, new=False)
            before = list(last.pipes)
            row.facts = RunFacts(last.name, [], number, last.length)
            row.read()
            if not row.facts.pipes or row.facts.loose:
                return False
            last.pipes = [*before, *row.facts.pipes]
            self._keep(row)
            return True
        if (
            "cue" not in head
            or (len(cues) < 2 and len(tokens) < 4)
            or above not in self.out.rows
            or not last.pipes
        ):
            return False
        if self._name(tokens, 0) is not None and "cue" not in head:
            return False
        self._values_of(list(last.pipes), tokens, 0, number)
        return True

    def _is_cue_row(self, tokens: list[Token]) -> bool:
        return any(self._cue_at(tokens, at, far=at > 0) for at in range(len(tokens)))

    def _cue_row(self, tokens: list[Token], number: int) -> bool:
        """`ovh  hse 16, gar 12`, `wf 18 - 18 - 22` below a head, `oh 24, exc 4+5+6 = 12`, `to  spl - drn`."""
        del number
        start = next((at for at in range(len(tokens)) if self._cue_at(tokens, at, far=at > 0)), None)
        if start is None or not self.out.runs:
            return False
        what = self._cue_at(tokens, start, far=start > 0)
        assert what is not None
        counts = [len(run.pipes) for run in self.out.runs]
        told = self._told_of_many(what, tokens, start + 1)
        self.makes = True
        if not told:
            for run, count in zip(self.out.runs, counts, strict=True):
                del run.pipes[count:]
            return False
        if start:
            self.out.partly[tokens[0].line] = tokens[start].start
        return True

    def _cue_at(self, tokens: list[Token], at: int, *, far: bool) -> str | None:
        """The measure that a row is all about; behind other words only across a wide blank."""
        if far and tokens[at].gap < 3:
            return None
        label = self._label(tokens[at])
        if label not in ("height", "wall_to_fascia", "ending") or (far and label == "ending"):
            return None
        rest = [one for one in tokens[at + 1 :] if one.is_number or "ending" in self.meanings.of(one.text)]
        return label if rest else None

    def _told_of_many(self, what: str, tokens: list[Token], at: int) -> bool:
        self.makes = not self.out.pipes()
        pending: list[tuple[list[PipeFacts] | None, Number | Said]] = []
        refs: list[PipeFacts] | None = None
        column = 0
        behind = self._refs_behind(what, tokens, at)
        if behind is None:
            return False
        if behind:
            for said, pipes in behind:
                if isinstance(said, Number):
                    for pipe in pipes:
                        pipe.numbers.setdefault(what, said)
                else:
                    give_endings(pipes, [said])
            return True
        while at < len(tokens):
            token = tokens[at]
            named = (
                self._refs(tokens, at) if not token.is_number or self._names_behind_exc(tokens, at) else None
            )
            value = self._value(what, token)
            if named is not None and not named[0] and not token.is_number:
                return False
            if named is not None:
                self.out.shown += tokens[at : named[1]]
            if (
                named is not None
                and (named[0] or token.is_number)
                and not (what == "ending" and value is not None and token.gap > 1)
            ):
                refs, at = [*(refs or []), *named[0]], named[1]
                continue
            if value is not None:
                target = refs
                if self.header:
                    if column >= len(self.header):
                        return False
                    target, column = self.header[column], column + 1
                pending.append((target, value))
                if refs is not None and not (at + 1 < len(tokens) and tokens[at + 1].text in ("/",)):
                    refs = None
            elif token.kind in ("number", "size") or (
                token.kind == "word"
                and not {"all", "except", "same", "to", "side"} & set(self.meanings.of(token.text))
                and token.text.lower() not in ("and", "the", "at")
            ):
                return False
            at += 1
        if not pending or (self.header and column != len(self.header)):
            return False
        above = max((line for line in self.out.rows if line < tokens[0].line), default=0)
        below = any(line > tokens[0].line for line in self.out.rows)
        alone = not any("all" in self.meanings.of(one.text) for one in tokens)
        for target, value in pending:
            if target is None and above and below and alone:
                last = [pipe for run in self.out.runs if run.line == above for pipe in run.pipes]
                if not last:
                    return False
                self._give(what, value, last)
            elif target is None:
                if above and alone and value.doubt is None:
                    value.doubt = "on a line of its own: taken for all that have none of their own"
                self.out.scopes.append((what, value))
            elif isinstance(value, Number):
                for pipe in target:
                    pipe.numbers.setdefault(what, value)
            else:
                give_endings(target, [value])
        return True

    @staticmethod
    def _give(what: str, value: Number | Said, pipes: list[PipeFacts]) -> None:
        if isinstance(value, Number):
            for pipe in pipes:
                pipe.numbers.setdefault(what, value)
        else:
            give_endings(pipes, [value])

    def _refs_behind(
        self, what: str, tokens: list[Token], at: int
    ) -> list[tuple[Number | Said, list[PipeFacts]]] | None:
        """`h 9 N, 11 S`: each value with the pipes named behind it; None where the row is mixed."""
        if at >= len(tokens) or self._value(what, tokens[at]) is None or self.header:
            return []
        if any("except" in self.meanings.of(one.text) for one in tokens[at:]):
            return []
        pairs: list[tuple[Number | Said, list[PipeFacts]]] = []
        named = False
        place = at
        while place < len(tokens):
            value = self._value(what, tokens[place])
            if value is None:
                if tokens[place].kind != "sign":
                    return None if named else []
                place += 1
                continue
            start = place + 1
            if start < len(tokens) and tokens[start].text in ("@", ":", "-"):
                start += 1
            refs = self._refs(tokens, start) if start < len(tokens) and not tokens[start].is_number else None
            if refs is None or not refs[0]:
                return None if named else []
            named = True
            pairs.append((value, refs[0]))
            place = refs[1]
        return pairs

    def _names_behind_exc(self, tokens: list[Token], at: int) -> bool:
        """`exc 4+5+6 = 12`: numbers that name runs, behind the word for what is left out."""
        if not self.context.numbered:
            return False
        back = at - 1
        while back >= 0 and (tokens[back].text in ("+", ",", "&") or tokens[back].digits is not None):
            back -= 1
        return back >= 0 and "except" in self.meanings.of(tokens[back].text)

    def _value(self, what: str, token: Token) -> Number | Said | None:
        if what == "ending":
            ending = self.meanings.of(token.text).get("ending")
            return None if ending is None else Said(ending.value, [token], ending.why)
        if not token.is_number:
            return None
        return Number(token) if can_be(token, what, metric=self.context.metric) else None

    # -------------------------------------------------------------- totals

    def _total(self, tokens: list[Token], number: int) -> bool:
        text = self.texts[number - 1]
        del tokens
        if TOTAL_LINE.match(text) is None or not self.out.runs:
            return False
        found = [
            Total(COUNTED[match["what"].lower()], int(match["count"]), number, match.start(), match.end())
            for match in TOTAL.finditer(text)
            if match["what"].lower() in COUNTED
        ]
        self.out.totals += found
        return bool(found)


def _without_bars(tokens: list[Token]) -> list[Token]:
    """The tokens of a row whose cells are parted by bars: wide blanks do the same."""
    kept: list[Token] = []
    barred = False
    for token in tokens:
        if token.text == "|":
            barred = True
            continue
        if barred:
            token.glued, token.gap = False, max(token.gap, 2)
        kept.append(token)
        barred = False
    return kept


def may_be_joined(texts: Sequence[str]) -> bool:
    """Whether rows open with a word and two numbers side by side: `FR 46 0`."""
    rows = [re.match(r"\A\s*(?:[A-Za-z]+[\s/-]*){1,3}", text) for text in texts]
    joined = [
        match for match, text in zip(rows, texts, strict=True)
        if match is not None and FEET_AND_INCHES.match(text, match.end()) is not None
    ]  # fmt: skip
    return len(joined) >= 2
