"""Pipes as a sentence tells of them: first told or told again, how many, of which run, and where they end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.prose.ends_told import EndsTold
from gutterance.reading.prose.facts import Fact, Pipes
from gutterance.reading.prose.naming import name_at
from gutterance.reading.prose.topic import SIDES_OF_A_PART

if TYPE_CHECKING:
    from gutterance.reading.prose.naming import Named

LEAVES = frozenset(
    {
        "leave",
        "leaves",
        "leaving",
        "come down",
        "comes down",
        "coming down",
        "go down",
        "goes down",
        "run off",
        "come off",
    }
)
"""What water does where a pipe is."""
SOON = 6
"""So many chunks ahead the side of a pipe is said."""
OF_PIPES = frozenset({"height", "wall_to_fascia"})
"""What is measured of a pipe."""


class PipesTold(EndsTold):
    """Pipes, and where they end."""

    def _pipe(self, number: int) -> None:
        chunk = self.chunks[number]
        place = number - 1
        while place >= 0 and self.chunks[place].kind == "word" and self._adjective(place):
            place -= 1
        before = self.chunks[place] if place >= 0 else None
        earlier = list(self.chunks[max(0, number - 5) : number])
        since = [other.kind for other in earlier]
        if "no" in since and not {"comma", "semi", "number"} & set(since[since.index("no") :]):
            if self.topic.runs:
                self.facts.append(
                    Fact(
                        "none",
                        list(self.topic.runs),
                        self.chunks[
                            number - 5 + since.index("no") if len(earlier) == 5 else since.index("no")
                        ].item(self.line),
                    )
                )
            return
        definite = before is not None and (
            before.text in ("the", "that", "this", "each", "our", "every", "these", "those")
            or before.kind in ("its", "each")
        )
        counted = next((other for other in reversed(earlier) if other.kind == "count"), None)
        prep = self._before(number)
        if (
            definite
            and prep is not None
            and prep.kind == "prep"
            and prep.text in ("from", "to", "of", "by", "past", "for")
        ):
            return
        known = self._known_pipes()
        if definite and counted is None and known:
            self._existing(list(self.topic.runs))
            if self.side is not None and self.side[0] in OPPOSITE and self.topic.pipes is not None:
                self.topic.pipes.sides, self.side = [self.side], None
            return
        if definite and counted is not None and known:
            self._existing(list(self.topic.runs))
            return
        if not self.topic.runs:
            self.unclear.append(chunk.text)
            return
        count = int(counted.value) if counted is not None else 1
        pipes = Pipes(list(self.topic.runs), count, new=True, item=chunk.item(self.line))
        if chunk.kind == "pipes" and counted is None and len(self.topic.runs) < 2:
            self.unclear.append(chunk.text)
        if self.side is not None:
            pipes.sides, self.side = [self.side], None
            pipes.open = count > 1
        self._close_pipes()
        self._close_end()
        self.pipes.append(pipes)
        self.topic.pipes = pipes
        self.topic.kind = self.subject = "pipe"

    def _water_leaves(self, number: int) -> bool:
        """`the water wants to come down on the left`: a pipe told by what it is for."""
        if self.chunks[number].text not in LEAVES or not self.topic.runs or self._known_pipes():
            return False
        for chunk in reversed(self.chunks[:number]):
            if chunk.kind in ("comma", "semi", "number"):
                return False
            if chunk.text in ("water", "rainwater", "rain"):
                return any(
                    other.kind in ("hand", "side") for other in self.chunks[number + 1 : number + SOON]
                )
        return False

    def _new_pipe(self, number: int) -> None:
        """One more pipe of the runs in mind."""
        self._close_pipes()
        pipes = Pipes(list(self.topic.runs), 1, new=True, item=self.chunks[number].item(self.line))
        self.pipes.append(pipes)
        self.topic.pipes = pipes
        self.topic.kind = self.subject = "pipe"
        self.role, self.side = None, None

    def _another(self, number: int) -> None:
        """`a pipe at the left end, 4.1 down, and another at the right`: one more of the same run."""
        behind = self.chunks[number + 1] if number + 1 < len(self.chunks) else None
        placed = behind is not None and behind.text in ("at", "on")
        same_run = bool(self.pipes) and self.pipes[-1].runs == self.topic.runs
        if placed and same_run and self.subject in ("pipe", *OF_PIPES):
            self._new_pipe(number)

    def _side_of_pipe(self, named: Named) -> bool:
        """`there is one pipe on it and it is on the right hand side`: an end, and no side of the house."""
        pipe = self._open_pipe()
        before = self._before(named.first)
        return (
            pipe is not None
            and not pipe.sides
            and self.subject == "pipe"
            and named.direction in SIDES_OF_A_PART
            and named.part is None
            and not (named.of_house or named.of_it)
            and before is not None
            and before.text in ("on", "at", "to")
            and not any(run.place.direction == named.direction for run in self.walk.runs)
        )

    def _one(self, number: int) -> None:
        """`and one on the back`, `one for the garage`: another pipe, of the run named behind it."""
        before = self.chunks[number - 1] if number else None
        here = number + 2
        if self.subject not in ("pipe", *OF_PIPES) or not self.pipes or before is None:
            return
        if before.kind not in ("join", "comma", "semi") or number + 1 >= len(self.chunks):
            return
        if self.chunks[number + 1].text not in ("on", "for", "at", "along", "to"):
            return
        while here < len(self.chunks) and self.chunks[here].kind == "det":
            here += 1
        named = name_at(self.chunks, here) if here < len(self.chunks) else None
        if named is None or self._is_towards(named):
            return
        self._close_pipes()
        pipes = Pipes(list(self.topic.runs), 1, new=True, item=self.chunks[number].item(self.line))
        self.pipes.append(pipes)
        self.topic.pipes = pipes
        self.topic.kind = self.subject = "pipe"

    def _dest(self, number: int) -> None:
        """Where the pipes in mind end."""
        chunk = self.chunks[number]
        before = self._before(number)
        near = any(other.kind == "height behind" for other in self.chunks[max(0, number - 3) : number])
        if (
            (near and chunk.value == "ground")
            or self.subject in ("other",)
            or (before is not None and before.text in ("past", "by", "beside", "above", "from", "behind"))
        ):
            return
        if chunk.value == "ground" and self.facts and self.facts[-1].name == "ends_at":
            since = [c.kind for c in self.chunks if self.facts[-1].item.end <= c.start < chunk.start]
            if not {"comma", "semi", "join"} & set(since):
                return  # `a drain in the ground`
        whole = before is None or before.kind in ("comma", "semi", "join")
        if whole and not chunk.text.startswith(("on", "to", "into", "over", "out", "runs")):
            return  # `because the ground drops away there`
        pipes = self.topic.pipes
        if pipes is None and self.subject in ("pipe", "height"):
            pipes = Pipes(list(self.topic.runs))
        if pipes is None or not pipes.runs:
            return
        self.facts.append(Fact("ends_at", [], chunk.item(self.line), value=chunk.value, pipes=pipes))
