"""One row of shorthand: behind the name a length, ends, outlets, and what is measured of their pipes."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.length import Length
from gutterance.reading.discourse import RECTANGLE
from gutterance.reading.shorthand.facts import Number, PipeFacts, RunFacts, Said

if TYPE_CHECKING:
    from gutterance.measure.tape import FieldKind
    from gutterance.reading.shorthand.meanings import Meanings
    from gutterance.reading.shorthand.signs import Meaning
    from gutterance.reading.shorthand.tokens import Token

PAIRING = frozenset({"/", "-", "+", "–", "&", ",", "."})
"""Signs between the two ends of a run, or between two outlets."""
SHORTEST_HEIGHT = Length(Fraction(24))
"""... and 2 ft, where feet are marked and the wall's distance is told."""
LEAST_OVERHANG = Length(Fraction(2))
LEAST_HEIGHT, MOST_HEIGHT = Length(Fraction(72)), Length(Fraction(480))
"""A downpipe's height, where no sign says that a number is one: 6 to 40 ft. Common practice, no source."""
MOST_OVERHANG = Length(Fraction(48))
"""... and how far a wall stands back from its fascia [in]. Likewise."""
LEAST_RUN, MOST_RUN = Length(Fraction(18)), Length(Fraction(2400))
FIELD_KINDS: dict[str, FieldKind] = {"height": "height", "wall_to_fascia": "wall to fascia"}
STANDS_FOR_FROM = frozenset({"<", "fr", "frm", "from", "f/", "off", "in", "to"})
"""Signs between a distance and the end it is measured from."""
MOST_PIPES = 4
COMPASS = frozenset({"north", "south", "east", "west", "front", "back"})


def can_be(token: Token, what: str, *, metric: bool) -> bool:
    """Whether a number is of the size of that field."""
    length = token.length(FIELD_KINDS[what], metric=metric)
    if length is None:
        return False
    if what == "height":
        return LEAST_HEIGHT.inches <= length.inches <= MOST_HEIGHT.inches
    return LEAST_OVERHANG.inches <= length.inches <= MOST_OVERHANG.inches


def can_be_run(token: Token, *, metric: bool) -> bool:
    """Whether a number is of the size of a run."""
    length = token.length("run", metric=metric)
    return length is not None and LEAST_RUN.inches <= length.inches <= MOST_RUN.inches


@dataclass(slots=True)
class Uncued:
    """A number of a row that no sign leads: which of the row's it is, and the pipes told before it."""

    token: Token
    place: int
    pipes: list[PipeFacts]
    facts: RunFacts | None = None


@dataclass(slots=True)
class Context:
    """What holds for all rows of a note. `starts_left` tells which end a walker's start is."""

    meanings: Meanings
    metric: bool = False
    numbers: dict[str, str] = field(default_factory=dict)
    starts_left: bool | None = None
    numbered: bool = False
    lettered: bool = False
    storeys: bool = False


WHICH_END = "the walk goes clockwise: as seen from outside, or in the order of the walk?"


class Row:
    """Reads the tokens behind a row's name. `new` says that a length may stand there."""

    def __init__(self, tokens: list[Token], at: int, facts: RunFacts, context: Context, *, new: bool) -> None:
        self.tokens, self.at, self.facts, self.context = tokens, at, facts, context
        self.new = new
        self.meanings = context.meanings
        self.current: list[PipeFacts] = []
        self.before: list[Said] = []
        self.after: list[Said] = []
        self.sided: dict[str, Said] = {}
        self.uncued: list[Uncued] = []
        self.lists: dict[str, list[Number]] = {}
        self.endings: list[Said] = []
        self.more: list[tuple[Token, list[Said]]] = []
        self.bare_side: Said | None = None

    # -------------------------------------------------------------- looking

    def peek(self, ahead: int = 0) -> Token | None:
        """The token so far ahead, or None."""
        place = self.at + ahead
        return self.tokens[place] if place < len(self.tokens) else None

    def slot(self, token: Token | None, name: str) -> Meaning | None:
        """What a token means in a slot."""
        return (
            None
            if token is None or token.kind in ("number", "size")
            else self.meanings.of(token.text).get(name)
        )

    # -------------------------------------------------------------- reading

    def read(self) -> None:
        """Read to the end of the tokens."""
        while (token := self.peek()) is not None:
            before = self.at
            for part in (
                self._aside, self._size, self._cue, self._counted_pipes, self._distance, self._at_sides,
                self._asked_where, self._pipe, self._end,
                self._number, self._nothing, self._side, self._ending,
            ):  # fmt: skip
                if part(token):
                    break
            if self.at == before:
                self._leave(token)
        self._settle_ends()
        self._share_lists()

    def _leave(self, token: Token) -> None:
        """A token that says nothing here. A number or a word left over is told of."""
        self.at += 1
        if token.text.lower() == "x":
            return
        if token.kind in ("number", "size") or (token.kind == "word" and token.text[0].isalpha()):
            self.facts.loose.append(token)

    def _aside(self, token: Token) -> bool:
        """`(grid cracked)`: words in brackets say nothing of the row, unless the key explains the bracket."""
        if token.text != "(" or self.meanings.explained("("):
            return False
        close = next(
            (place for place in range(self.at, len(self.tokens)) if self.tokens[place].text == ")"), None
        )
        if close is None:
            return False
        self.facts.loose += [one for one in self.tokens[self.at + 1 : close] if one.kind != "sign"]
        self.at = close + 1
        return True

    def _size(self, token: Token) -> bool:
        if token.kind != "size":
            return False
        for pipe in self.current or self.facts.pipes:
            pipe.size = token
        if not (self.current or self.facts.pipes):
            self.facts.size = token
        self.at += 1
        return True

    def _cue(self, token: Token) -> bool:
        """`h2700`, `wf 14`, `h 9-1 + 9-7`."""
        meaning = self.slot(token, "cue")
        if meaning is None:
            return False
        ahead = 1
        while (sign := self.peek(ahead)) is not None and sign.text in (":", "=", "-", ".", "@"):
            ahead += 1
        number = self.peek(ahead)
        if number is None or not number.is_number:
            return False
        if meaning.why is not None and not can_be(number, meaning.value, metric=self.context.metric):
            return False
        if self.slot(token, "end") and self.new and self.facts.length is None:
            return False  # `w820`: the end before the length
        self.at += ahead
        self._values(meaning.value, None if self._beside_a_height(token) else meaning.why)
        return True

    def _beside_a_height(self, token: Token) -> bool:
        """`h9-2 w16`: beside a height with its sign, `w` and `o` before inches can be but one thing."""
        if token.text.lower() not in ("w", "o"):
            return False
        return any(
            (meaning := self.slot(one, "cue")) is not None
            and meaning.value == "height"
            and meaning.why is None
            for one in self.tokens
        )

    def _values(self, what: str, why: str | None) -> None:
        """The numbers that answer a cue, one or a list of them."""
        while (number := self.peek()) is not None and number.is_number:
            self.lists.setdefault(what, []).append(Number(number, why))
            self.at += 1
            sign, behind = self.peek(), self.peek(1)
            if not (sign is not None and sign.text in ("+", ",", "&", "/") and behind is not None):
                return
            if not (behind.is_number and can_be(behind, what, metric=self.context.metric)):
                return
            self.at += 1

    def _counted_pipes(self, token: Token) -> bool:
        """`2dp L+R`, `dp2`: a small number against the word for a pipe counts it."""
        if token.kind != "number" or token.digits is None or not 1 <= token.digits <= MOST_PIPES:
            return False
        word = self.peek(1)
        if word is not None and word.text == "@" and self.new and self.facts.length is not None:
            side = self._side_of(self.peek(2))
            if side is not None and token.digits == (2 if side.value == "both" else 1):
                self.at += 1
                made = len(self.facts.pipes)
                if self._at_sides(word):
                    for pipe in self.facts.pipes[made:]:
                        pipe.tokens.insert(0, token)
                    return True
                self.at -= 1
        if word is None or not self.slot(word, "pipe") or (self.facts.length is None and self.new):
            return False
        if word.gap > 1:
            return False
        self.at += 1
        self._pipe(word, count=token.digits, counted=token)
        return True

    def _distance(self, token: Token) -> bool:
        """`14<e`, `3' fr L`: how far from an end an outlet stands."""
        if not token.is_number or (self.new and self.facts.length is None):
            return False
        sign, end = self.peek(1), self.peek(2)
        if sign is None or end is None or sign.text.lower() not in STANDS_FOR_FROM:
            return False
        side = self._side_of(end)
        if side is None or side.value in ("both", "centre"):
            return False
        side.tokens = [sign, end]
        pipe = next((one for one in self.current if one.side is None), None)
        if pipe is None:
            pipe = PipeFacts()
            self.facts.pipes.append(pipe)
            self.current = [pipe]
        pipe.side, pipe.distance = side, Number(token)
        pipe.tokens += [token, sign, end]
        self.at += 3
        return True

    def _side_of(self, token: Token | None) -> Said | None:
        """The side of this run that a token says: left, right, centre or both."""
        meaning = self.slot(token, "side")
        if meaning is None or token is None:
            return None
        value, doubt = meaning.value, meaning.why
        if value in ("start", "finish"):
            left = self.context.starts_left is not False
            doubt = None if self.context.starts_left is not None else "the start was taken for the left end"
            value = "left" if (value == "start") == left else "right"
        elif value in COMPASS:
            name = self.facts.name.direction or ""
            side = RECTANGLE.get((name, value))
            if side is None:
                return None
            value = side
        return Said(value, [token], doubt)

    def _at_sides(self, token: Token) -> bool:
        """`@s + @e`: an outlet at each of the places, with no word for it."""
        if token.text != "@" or not self.new or self.facts.length is None:
            return False
        sides: list[Said] = []
        ahead = 0
        while (sign := self.peek(ahead)) is not None and sign.text == "@":
            side = self._side_of(self.peek(ahead + 1))
            if side is None:
                break
            side.tokens.insert(0, sign)
            sides.append(side)
            ahead += 2
            mark = self.peek(ahead)
            if mark is not None and mark.text in PAIRING:
                ahead += 1
        if not sides:
            return False
        self.at += ahead
        made = self._made(sides, [], None, None, None)
        self.facts.pipes += made
        self.current = made
        return True

    def _asked_where(self, token: Token) -> bool:
        """`d's on GA?? where`: pipes of which the note itself asks: no more of the row tells of one."""
        if not self.slot(token, "pipe") or (self.new and self.facts.length is None):
            return False
        if self._side_of(self.peek(1)) is not None or ((nxt := self.peek(1)) is not None and nxt.text == "@"):
            return False
        rest = self.tokens[self.at + 1 :]
        asked = any(one.text.startswith("?") for one in rest)
        if not asked or any(one.kind in ("number", "size") for one in rest):
            return False
        self.at = len(self.tokens)
        return True

    def _pipe(self, token: Token, count: int | None = None, counted: Token | None = None) -> bool:
        """`↓l+↓r`, `d1@L d2@R`, `dp ea end`, `p @W`."""
        meaning = self.slot(token, "pipe")
        if meaning is None or (self.new and self.facts.length is None):
            return False
        if meaning.why is not None and self._opens_pair(token):
            return False  # `o-c`, behind a length
        ahead, ident, sided = 1, None, False
        number = self.peek(1)
        if (
            number is not None
            and number.glued
            and number.digits is not None
            and number.digits <= 20
            and count is None
        ):
            behind = self.peek(2)
            if (behind is not None and behind.text == "@") or number.digits > MOST_PIPES:
                ident = number.text
            elif behind is None or not behind.glued:
                count, counted = number.digits, number
            ahead = 2
        while (sign := self.peek(ahead)) is not None and (
            sign.text in ("@", ":", "at", "on", "-", "=")
            or (sign.text in (">", "→") and self._side_of(self.peek(ahead + 1)))
        ):
            sided = True
            ahead += 1
        side = self._side_of(self.peek(ahead))
        if meaning.why is not None and side is None and not sided and count is None:
            return False
        if (
            side is None
            and len(token.text) == 1
            and not self.meanings.explained(token.text)
            and count is None
        ):
            return False
        if counted is not None and counted is not number:
            token_list = [counted, token]
        else:
            token_list = [token] if number is None or ahead == 1 or not number.glued else [token, number]
        distance = self.peek(ahead)
        if side is None and distance is not None and distance.is_number:
            self.at += ahead
            self.current = [PipeFacts(tokens=list(token_list), ident=ident, doubt=meaning.why)]
            if self._distance(distance):
                self.facts.pipes += self.current
                return True
            self.at -= ahead
            self.current = []
        if side is None and sided:
            unknown = self.peek(ahead)
            if unknown is not None and unknown.kind == "word":
                self.facts.loose.append(unknown)
        sides: list[Said] = []
        if side is not None:
            sides.append(side)
            self.at += ahead + 1
            while (mark := self.peek()) is not None and mark.text in PAIRING:
                skip = 1
                while (nxt := self.peek(skip)) is not None and nxt.text == "@":
                    skip += 1
                other = self._side_of(self.peek(skip))
                if other is None or other.value in [one.value for one in sides]:
                    break
                sides.append(other)
                self.at += skip + 1
            self._side_by_side(sides)
            self._confirmed_end(sides[-1])
        else:
            self.at += ahead
        made = self._made(sides, token_list, ident, meaning.why, count)
        self.facts.pipes += made
        self.current = made if not self.current or self.tokens_between(made) else [*self.current, *made]
        return True

    def _side_by_side(self, sides: list[Said]) -> None:
        """`dp L R`: two places with nothing but a blank between them."""
        token = self.peek()
        side = self._side_of(token)
        if token is None or side is None or token.gap != 1 or len(sides) != 1 or len(token.text) > 1:
            return
        behind = self.peek(1)
        apart = side.value in ("left", "right", "centre") and side.value != sides[0].value
        if apart and (behind is None or not (behind.glued or self._end_of(behind))):
            sides.append(side)
            self.at += 1

    def tokens_between(self, made: list[PipeFacts]) -> bool:
        """Whether values were told of the pipes before, so that what follows is of the new ones."""
        told = bool(self.lists or self.endings)
        if told:
            self._share_lists()
        return told or not made

    def _confirmed_end(self, side: Said) -> None:
        """`↓@r wall`: what stands at that end is no news of the run's ends."""
        token = self.peek()
        meaning = self.slot(token, "end")
        if meaning is None or token is None or token.gap > 1:
            return
        told = [*self.before, *self.after]
        if len(told) >= 2 or side.value in self.sided or self.more:
            side.tokens.append(token)
            self.at += 1

    def _made(
        self, sides: list[Said], tokens: list[Token], ident: str | None, why: str | None, count: int | None
    ) -> list[PipeFacts]:
        spread: list[Said | None] = []
        for side in sides:
            if side.value == "both":
                spread += [Said("left", side.tokens, side.doubt), Said("right", side.tokens, side.doubt)]
            else:
                spread.append(side)
        if not spread:
            spread = [None] * (count or 1)
        doubt = why
        if count is not None and count != len(spread):
            doubt = f"{count} were counted, {len(spread)} placed"
        made = [PipeFacts(side=side, ident=ident, tokens=list(tokens), doubt=doubt) for side in spread]
        for pipe in made:
            if pipe.side is not None:
                pipe.tokens += pipe.side.tokens
        return made

    # -------------------------------------------------------------- ends

    def _end_of(self, token: Token | None) -> Said | None:
        meaning = self.slot(token, "end")
        if meaning is None or token is None:
            return None
        return Said(meaning.value, [token], meaning.why, meaning.angle)

    def _end(self, token: Token) -> bool:
        """`oc/ec`, `x14250x`, `cap L wall R`, `caps both`."""
        pair = self.slot(token, "end pair")
        if pair is not None:
            for value in pair.value.split(", "):
                self.after.append(Said(value, [token]))
            self.at += 1
            return True
        end = self._end_of(token)
        if end is None:
            return self._side_then_end(token)
        first = self.new and self.facts.length is None
        number = self.peek(1)
        sure = self.meanings.explained(token.text) or len(token.text) > 1
        if first:
            if number is not None and (number.is_number or self._end_of(number)) and (sure or number.glued):
                self.before.append(end)
                self.at += 1
                return True
            return False
        glued = token.glued and self.tokens[self.at - 1].is_number
        second_at = 2 if number is not None and number.text in PAIRING else 1
        second = self._end_of(self.peek(second_at))
        paired = second is not None and len(self.after) + len(self.before) == 0
        if second is not None and paired and self._alike(token, self.peek(second_at)):
            self.after += [end, second]
            self.at += second_at + 1
            return True
        if not (sure or (glued and self.before) or self.meanings.explained(token.text)):
            return False
        side = self._side_of(self.peek(1))
        if (
            side is not None
            and side.value in ("left", "right", "both")
            and (not self.before)
            and not self.after
        ):
            mark = self.peek(1)
            assert mark is not None
            end.tokens.append(mark)
            for one in ("left", "right") if side.value == "both" else (side.value,):
                self.sided[one] = end
            self.at += 2
            return True
        if len(self.before) + len(self.after) >= 2:
            return False
        self.after.append(end)
        self.at += 1
        if (
            len(token.text) > 2
            and token.text.lower().endswith("s")
            and token.text.lower() not in ("is", "os", "i/s", "o/s")
        ):
            self.after.append(end)  # `caps`
        return True

    def _opens_pair(self, token: Token) -> bool:
        """Whether both ends of the run are told from here on: `o-c`."""
        if self.before or self.after or self._end_of(token) is None:
            return False
        mark, second = self.peek(1), self.peek(2)
        return (
            mark is not None
            and mark.glued
            and mark.text in PAIRING
            and second is not None
            and second.glued
            and self._end_of(second) is not None
        )

    def _alike(self, one: Token, two: Token | None) -> bool:
        """Whether two words for ends stand as a pair: both short, or both long."""
        if two is None:
            return False
        both = self.meanings.explained(one.text) and self.meanings.explained(two.text)
        return both or two.glued or abs(len(one.text) - len(two.text)) <= 3

    def _side_then_end(self, token: Token) -> bool:
        """`L cap R wall`."""
        side = self._side_of(token)
        end = self._end_of(self.peek(1))
        if side is None or end is None or side.value not in ("left", "right", "both"):
            return False
        word = self.peek(1)
        assert word is not None
        if self.before or self.after or self.facts.pipes or (len(word.text) == 1 and not word.glued):
            return False
        end.tokens.insert(0, token)
        for one in ("left", "right") if side.value == "both" else (side.value,):
            self.sided[one] = end
        self.at += 2
        return True

    def _settle_ends(self) -> None:
        """Which end of the run each is."""
        ends = self.facts.ends
        ends.update(self.sided)
        if len(self.more):
            return
        if self.before and len(self.before) == 1 and len(self.after) == 1:
            ends["left"], ends["right"] = self.before[0], self.after[0]
        elif not self.before and len(self.after) == 2:
            ends["left"], ends["right"] = self.after
            if self.context.starts_left is False and self.after[0].value != self.after[1].value:
                for side in ("left", "right"):
                    ends[side] = replace(ends[side], doubt=WHICH_END)
        elif len(self.before) == 2 and not self.after:
            ends["left"], ends["right"] = self.before
        else:
            self.facts.unsided += [*self.before, *self.after]

    # -------------------------------------------------------------- numbers

    def _number(self, token: Token) -> bool:
        if not token.is_number:
            return False
        metric = self.context.metric
        if self.new and self.facts.length is None:
            if not can_be_run(token, metric=metric):
                return False
            self.facts.length = Number(token)
            self.at += 1
            self._more_lengths()
            return True
        if token.text == "0" and self.new and not self.facts.pipes and token.gap:
            self.facts.dry = Said("no outlet", [token])
            self.at += 1
            return True
        keyed = self.context.numbers.get(token.text)
        if keyed is not None:
            self.lists.setdefault(keyed, []).append(Number(token))
            self.at += 1
            return True
        if self._cues_behind():
            return True
        cue = self.peek(1)
        meaning = self.slot(cue, "cue")
        behind = self.peek(2)
        if (
            meaning is not None
            and meaning.why is None
            and (behind is None or not behind.is_number)
            and can_be(token, meaning.value, metric=metric)
        ):
            self.lists.setdefault(meaning.value, []).append(Number(token))
            self.at += 2
            return True
        self.uncued.append(Uncued(token, len(self.uncued), self.current or self.facts.pipes, self.facts))
        self.at += 1
        return True

    def _cues_behind(self) -> bool:
        """`16 back 8-9 down`: numbers and signs by turns: each sign is of the number before."""
        pairs: list[tuple[Token, str]] = []
        place = self.at
        while place + 1 < len(self.tokens):
            number, cue = self.tokens[place], self.slot(self.tokens[place + 1], "cue")
            if not number.is_number or cue is None or cue.why is not None:
                break
            if not can_be(number, cue.value, metric=self.context.metric):
                return False
            pairs.append((number, cue.value))
            place += 2
            if place < len(self.tokens) and self.tokens[place].text == ",":
                place += 1
        whole = place >= len(self.tokens) or not self.tokens[place].is_number
        if not pairs or not whole or len({what for _, what in pairs}) < len(pairs):
            return False
        for number, what in pairs:
            self.lists.setdefault(what, []).append(Number(number))
        self.at = place
        return True

    def _more_lengths(self) -> None:
        """`w820/1900/820w`: the runs round a bay in one row, with the sign of the corner between them."""
        metric = self.context.metric
        between: list[Said] = []
        while (sign := self.peek()) is not None and (number := self.peek(1)) is not None:
            corner = self._end_of(sign)
            if not number.is_number or not number.glued or not can_be_run(number, metric=metric):
                return
            if corner is None and sign.text not in ("/", "-", "+"):
                return
            if corner is not None:
                between.append(corner)
            self.more.append((number, [corner] if corner is not None else []))
            self.at += 2

    # -------------------------------------------------------------- the rest

    def _nothing(self, token: Token) -> bool:
        """`nil`, `-`, `→5` where the key says that the run has no drop of its own."""
        meaning = self.slot(token, "none")
        if meaning is None or (self.new and self.facts.length is None) or self.facts.pipes:
            return False
        behind = self.peek(1)
        keyed = self.meanings.explained(token.text)
        if not keyed and token.text in ("-", "–", "—", "0", "no") and (behind is not None and behind.gap < 2):
            if token.text == "no" and self.slot(behind, "pipe"):
                self.facts.dry = Said("no outlet", [token, behind])
                self.at += 2
                return True
            return False
        self.facts.dry = Said("no outlet", [token], meaning.why)
        self.at += 1
        if keyed and behind is not None and behind.digits is not None and behind.glued:
            self.facts.dry.tokens.append(behind)
            self.at += 1
        return True

    def _side(self, token: Token) -> bool:
        """`e/e  L`: a side alone behind both ends is an outlet's."""
        side = self._side_of(token)
        ends = len(self.before) + len(self.after) + len(self.sided)
        if side is None or side.value not in ("left", "right", "centre", "both"):
            return False
        if self.new and (ends < 2 or self.facts.length is None or self.facts.pipes):
            return False
        if not self.new:
            return False
        self.facts.pipes += self._made([side], [], None, "a side with no word for an outlet", None)
        self.current = self.facts.pipes
        self.bare_side = side
        self.at += 1
        return True

    def _ending(self, _token: Token) -> bool:
        """`→sw`, `> lwr rf`, `sb+sb`, `to barrel`."""
        ahead = 0
        while self.slot(self.peek(ahead), "to") and not self.slot(self.peek(ahead), "ending"):
            ahead += 1
        word = self.peek(ahead)
        meaning = self.slot(word, "ending")
        if meaning is None or word is None or (self.new and self.facts.length is None):
            return False
        if not (self.facts.pipes or self.current):
            return False
        self.endings.append(Said(meaning.value, [word], meaning.why))
        self.at += ahead + 1
        while (mark := self.peek()) is not None and mark.text in ("+", ",", "&", "/"):
            other, behind = self.slot(self.peek(1), "ending"), self.peek(1)
            if other is None or behind is None:
                break
            self.endings.append(Said(other.value, [behind], other.why))
            self.at += 2
        return True

    # -------------------------------------------------------------- sharing

    def _share_lists(self) -> None:
        """Give the values told to the pipes they were told of: one to all of them, or one to each in turn."""
        pipes = self.current or self.facts.pipes
        if not pipes:
            return
        for what, numbers in self.lists.items():
            if not give_in_turn(pipes, what, numbers):
                self.facts.loose += [number.token for number in numbers]
        give_endings(pipes, self.endings)
        self.lists, self.endings = {}, []


def give_in_turn(pipes: list[PipeFacts], what: str, numbers: list[Number]) -> bool:
    """Give numbers to pipes: one each, or one to all. False where they are of another count."""
    if len(numbers) == 1:
        for pipe in pipes:
            pipe.numbers.setdefault(what, numbers[0])
        return True
    if len(numbers) != len(pipes):
        return False
    for pipe, number in zip(pipes, numbers, strict=True):
        pipe.numbers.setdefault(what, number)
    return True


def give_endings(pipes: list[PipeFacts], endings: list[Said]) -> None:
    """Likewise where pipes end; of another count, all are asked about."""
    if not endings:
        return
    if len(endings) == len(pipes):
        for pipe, ending in zip(pipes, endings, strict=True):
            pipe.ending = pipe.ending or ending
        return
    same = len({ending.value for ending in endings}) == 1
    for pipe in pipes:
        first = endings[0]
        doubt = first.doubt if same and len(endings) == 1 else "more endings than pipes were told"
        pipe.ending = pipe.ending or Said(first.value, first.tokens, doubt)
