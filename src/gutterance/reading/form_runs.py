"""Runs named on a form: by a heading, a label or its answer, and what stands beside a name with no label."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.answer_kinds import fits
from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.form_finding import LONGEST_HEADING, SHOWN
from gutterance.reading.items import Line
from gutterance.reading.job_answers import put_job_answer
from gutterance.reading.places import PlaceName
from gutterance.reading.run_answers import run_end
from gutterance.reading.speech import hear
from gutterance.reading.tick_boxes import chosen, has_boxes
from gutterance.reading.written_answers import Answer, read_answer

if TYPE_CHECKING:
    from gutterance.reading.form_lines import FormLine, Pair
    from gutterance.reading.labels import Meaning
    from gutterance.reading.paper import Paper


WALL_AT_A_SIDE = re.compile(r"(?P<side>left|right|l|r|lh|rh)(?: hand)? (?P<wall>wall)", re.IGNORECASE)


def name_run(answer: Answer, paper: Paper, *, measured: bool) -> bool:
    """Bring the run of that name into focus, with the side of it that the words tell."""
    name, side = paper.name_in(answer, measured=measured)
    if name is None:
        return False
    paper.focus(name, answer)
    paper.walk.outlets = []
    if side is not None and side.value in OPPOSITE:
        paper.walk.outlets = [paper.walk.outlet_at(side.value, side, paper.walk.text(side.value, side), None)]
    return True


class FormRuns:
    """The part of reading a line of a form that brings runs into focus."""

    def __init__(self, parted: FormLine, paper: Paper) -> None:
        self.parted = parted
        self.paper = paper
        self.walk = paper.walk
        self.mark: Answer | None = None

    def _try(self, meaning: Meaning, answer: Answer, pair: Pair) -> bool:
        """Put an answer to what its label may ask for; False where it does not answer that."""
        raise NotImplementedError

    def _left_over(self, answer: Answer, pair: Pair) -> None:
        """An answer that fits nothing its label asks for."""
        raise NotImplementedError

    def _lead(self) -> None:
        """Words before the first label: the run, with its length; or boxes that need no label."""
        line = self.parted.line
        first, last = self.parted.lead[0][0], self.parted.lead[-1][1]
        if has_boxes(line.text[first:last]):
            kept = chosen(line.text, first, last)
            if kept:
                put_job_answer("gutter", read_answer([(line, start, end) for start, end in kept]), self.walk)
            return
        if self.parted.pairs and not any(pair.of_run() for pair in self.parted.pairs):
            return
        for number, (start, end) in enumerate(self.parted.lead):
            answer = read_answer([(line, start, end)])
            if number == 0:
                measured = (
                    not self.parted.pairs
                    or len(self.parted.lead) > 1
                    or any(
                        pair.label is not None and pair.label.asks(what)
                        for pair in self.parted.pairs
                        for what in ("left", "right", "ends", "length")
                    )
                )
                if not name_run(answer, self.paper, measured=measured) and answer.measures:
                    self.paper.put("length", answer)
            else:
                self._unlabelled(answer)

    def _unlabelled(self, answer: Answer) -> None:
        """An answer with no label that shows what it is: `48-0`, `cap/cap`, `no outlet`, `drain`."""
        run = self.paper.run
        if run is None:
            return
        if "length" not in run.fields and (answer.measures or answer.is_ditto) and not answer.of(*SHOWN):
            self.paper.put("length", answer, above=self.paper.last)
        elif fits("ends", answer) and "left_end" not in run.fields:
            self.paper.put("ends", answer)
        elif answer.of("outlet", "downpipe"):
            self.paper.put("outlet", answer)
        elif answer.of("ends at"):
            self.paper.put("ends_at", answer)

    def _on_one_run(self, answer: Answer, pair: Pair) -> bool:
        """`Outlet 1: front, right end`: the run that the outlet is on, brought into focus with it."""
        named = answer.of("direction", "part", "storey", "quarter", "numbered")
        sides = answer.of("lr", "side", "quarter")
        if not named or len(sides) != 1 or len({item.kind for item in named}) < len(named):
            return False
        kept = self.paper.run
        if not name_run(answer, self.paper, measured=False):
            return False
        if self.paper.run is not kept and self.paper.run is not None and not self.paper.run.has_data:
            self.paper.run = kept
            return False
        if pair.label is not None and pair.label.number is not None and self.paper.run is not None:
            where = pair.line
            assert where is not None
            self.paper.run.source.append(where.source(pair.start, pair.start + len(pair.words)))
        return True

    def _run(self, answer: Answer, pair: Pair) -> bool:
        """A label that names a run, or whose answer does."""
        paper = self.paper
        assert pair.label is not None
        if pair.label.number is not None and answer.is_empty and self._name_behind(pair):
            where = pair.line
            assert where is not None
            self.mark = read_answer([(where, pair.start, pair.start + len(pair.words))])
            return True
        if pair.label.number is not None:
            name = paper.aliases.get(pair.label.number, PlaceName(number=pair.label.number))
            named, _ = paper.name_in(answer, measured=True) if not answer.measures else (None, None)
            if named is not None and named.number is None:
                paper.aliases[pair.label.number] = named
                name = named
            where = pair.line
            assert where is not None
            paper.focus(name, read_answer([(where, pair.start, pair.start + len(pair.words))]))
            self.walk.outlets = []
            if named is not None:
                self.walk.use_source(answer.line.source(answer.start, answer.end))
                assert paper.run is not None
                paper.run.source.append(answer.line.source(answer.start, answer.end))
            elif answer.measures:
                paper.put("length", answer)
            return True
        said = {item.kind for item in answer.items if item.kind not in ("filler", "mark", "break")}
        if paper.run is not None and pair.label.asks("at") and said and said <= {"lr", "side"}:
            return False  # `Position: left and right`
        if answer.is_empty or (
            answer.measures
            and not answer.of("direction", "part", "lr", "initial")
            and not re.fullmatch(r"\d{1,2}", answer.plain)
        ):
            return False
        if len(answer.plain.split()) > LONGEST_HEADING or answer.of(
            "end", "end word", "ends at", "outlet", "downpipe"
        ):
            return False
        if paper.run is None and not paper.form_of_runs:
            return False
        if not name_run(answer, paper, measured=True):
            return False
        if self.mark is not None and paper.run is not None:
            paper.aliases[self.mark.plain] = paper.run.place
            paper.run.source.append(self.mark.line.source(self.mark.start, self.mark.end))
            self.mark = None
        return True

    def _name_behind(self, pair: Pair) -> bool:
        """`Run #1   Name: Front`: the number's run is named by the label behind it."""
        at = self.parted.pairs.index(pair)
        behind = self.parted.pairs[at + 1] if at + 1 < len(self.parted.pairs) else None
        return (
            behind is not None
            and behind.label is not None
            and behind.label.number is None
            and behind.label.meanings[0].field == "run"
        )

    def _wall_at_a_side(self, pair: Pair, answer: Answer) -> bool:
        """`left wall` in a cell of its own, of a run that has no left end yet: the end, and no other run."""
        said = WALL_AT_A_SIDE.fullmatch(pair.words.strip())
        run, where = self.paper.run, pair.line
        if said is None or run is None or where is None or not answer.is_empty:
            return False
        side = "left" if said["side"].lower().startswith("l") else "right"
        if "length" not in run.fields or f"{side}_end" in run.fields:
            return False
        first = where.text.index(said["wall"], pair.start)
        self.paper.put(side, read_answer([(where, first, first + len(said["wall"]))]))
        return True

    def _placed(self, pair: Pair, answer: Answer) -> None:
        """`Front eave, how long?`: a label that names its run."""
        assert pair.place is not None
        assert pair.label is not None
        if pair.label.asks("run"):
            self._place_alone(pair, answer)
            return
        where = pair.line
        assert where is not None
        if self.paper.run is None or self.paper.run.place != pair.place:
            self.paper.focus(pair.place, read_answer([(where, pair.start, pair.start + len(pair.words))]))
            self.walk.outlets = []
        for meaning in pair.label.meanings:
            if meaning.of == "run" and self._try(meaning, answer, pair):
                return
        self._left_over(answer, pair)

    def _place_alone(self, pair: Pair, answer: Answer) -> None:
        """`Main house front ..... 34'2`: a run named by a label, its length behind."""
        where = pair.line
        assert where is not None
        assert pair.place is not None
        several = len(pair.pieces) > 1 and not has_boxes(where.text)
        if not several and (answer.of("same", "mirror") or not (answer.measures or answer.is_empty)):
            self._as_speech(pair)
            return
        self.paper.focus(pair.place, read_answer([(where, pair.start, pair.start + len(pair.words))]))
        self.walk.outlets = []
        if (answer.measures and not any(item.was for item in answer.items) and several) or (
            several and not answer.measures
        ):
            for start, end in pair.pieces:
                self._unlabelled(read_answer([(where, start, end)]))
        elif answer.measures:
            self.paper.put("length", answer)

    def _as_speech(self, pair: Pair) -> None:
        """Hear a label and its answer as words said."""
        where = pair.line
        assert where is not None
        label = read_answer([(where, pair.start, pair.start + len(pair.words))])
        answer = pair.answer(self.paper.legend)
        hear(Line(where.number, where.text, [*label.items, *answer.items]), self.walk)
        self.paper.run = self.walk.run

    def _corner(self, pair: Pair, answer: Answer) -> None:
        """`corner A/B  outside`: the right end of the one and the left end of the other."""
        assert pair.corner is not None
        paper = self.paper
        kept = paper.run
        for words, which in zip(pair.corner, ("right", "left"), strict=True):
            name = paper.aliases.get(words, PlaceName(number=words) if len(words) <= 2 else None)
            if name is None:
                name = next((run.place for run in self.walk.runs if words in run.place.name.split()), None)
            if name is None:
                continue
            run = self.walk.focus(name, None)
            run.tabled = True
            answer.legend = paper.legend
            run_end(answer, self.walk, run, which)
        paper.run = kept
        self.walk.run = kept
