"""One sentence being read: its chunks, what it has told so far, and what is in mind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.prose.facts import Pipes

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.reading.places import PlaceName
    from gutterance.reading.prose.chunks import Chunk
    from gutterance.reading.prose.facts import Fact
    from gutterance.reading.prose.naming import Named
    from gutterance.reading.prose.topic import Topic


class SentenceWords:
    """What the rules for names, sides, pipes and numbers share."""

    def __init__(self, line: Line, chunks: list[Chunk], topic: Topic, walk: Walk) -> None:
        self.line = line
        self.chunks = chunks
        self.topic = topic
        self.walk = walk
        self.facts: list[Fact] = []
        self.pipes: list[Pipes] = []
        self.lost: list[Item] = []
        self.aside: list[Item] = []
        self.unclear: list[str] = []
        self.subject = topic.kind
        self.role: str | None = None
        self.side: tuple[str, Item] | None = None
        self.open_end: Fact | None = None
        self.last_end: Fact | None = None
        self.unsided: list[Fact] = []
        self.name_end = 0
        self.main_subject: str | None = None
        self.kept_role: str | None = None
        self.side_at: int | None = None
        self.likened: list[list[PlaceName]] = []
        self.focused = False
        self.listing = False
        self.told_at: tuple[str, Item] | None = None
        self.last_named: list[PlaceName] | None = None
        self.one_by_one = any(chunk.kind == "in order" for chunk in chunks)
        self.listed: dict[str, int] = {}

    def _before(self, number: int) -> Chunk | None:
        """The chunk before, past articles and the words between."""
        place = number - 1
        while place >= 0 and (
            self.chunks[place].kind in ("det", "count", "its")
            or (
                self.chunks[place].kind == "word"
                and self.chunks[place].text.isalpha()
                and self._adjective(place)
            )
        ):
            place -= 1
        return self.chunks[place] if place >= 0 else None

    def _leading(self, first: int) -> list[Chunk]:
        """The chunks before a name, the nearest first, without the articles."""
        return [
            chunk
            for chunk in reversed(self.chunks[max(0, first - 5) : first])
            if chunk.kind not in ("det", "its")
        ]

    def _adjective(self, place: int) -> bool:
        """A word between an article and a noun: `our long front`."""
        return place > 0 and self.chunks[place - 1].kind in ("det", "its", "count")

    def _has_length(self, place: PlaceName) -> bool:
        """Whether the length of a run is told in this sentence, or was before."""
        if any(fact.name == "length" and place in fact.runs for fact in self.facts):
            return True
        return any(run.place == place and "length" in run.fields for run in self.walk.runs)

    def _open_pipe(self) -> Pipes | None:
        pipes = self.topic.pipes
        return pipes if pipes is not None and pipes.open and pipes.new else None

    def _close_end(self) -> None:
        """An end whose side nobody said: both, where there are several; the other, where one was told."""
        fact, self.open_end = self.open_end, None
        if fact is not None:
            self.unsided.append(fact)
            self.last_end = fact

    def _close_pipes(self) -> None:
        for one in self.pipes:
            one.open = False

    def _existing(self, places: list[PlaceName]) -> None:
        """Bring pipes told before into mind: those of these runs."""
        here = next((one for one in self.pipes if one.runs == places), None)
        self.topic.pipes = here if here is not None and len(here.sides) < 2 else Pipes(places)
        self.topic.kind = self.subject = "pipe"
        self.role = None

    def _known_pipes(self) -> bool:
        """Whether a pipe of the runs in mind was told before."""
        if any(one.new and one.runs == self.topic.runs for one in self.pipes):
            return True
        return any(run.place in self.topic.runs and run.outlets for run in self.walk.runs)

    def _is_towards(self, named: Named) -> bool:
        """`the garage end`, `nearest the road`, `a pipe, at the back`: an end by its neighbour."""
        behind = self.chunks[named.behind] if named.behind < len(self.chunks) else None
        before = self._before(named.first)
        if behind is not None and behind.text in ("end", "corner", "ends"):
            return True
        if before is not None and before.kind == "near" and len(self.topic.runs) == 1:
            return True
        at = before is not None and before.text in ("at", "towards", "with")
        key = named.part or named.direction or ""
        closes = behind is None or behind.kind in ("comma", "semi", "join", "which")
        own = len(self.topic.runs) == 1 and self.topic.runs[0].direction in ("left side", "right side")
        return bool(at and self.focused and closes and own and key and self.topic.side_towards(key))

    def _is_object(self, number: int) -> bool:
        """`in front of it`, `past the pipe`: whether a noun stands behind a little word."""
        place = number - 1
        while place >= 0 and self.chunks[place].kind in ("det", "its"):
            place -= 1
        return place >= 0 and self.chunks[place].kind in ("prep", "near")

    def _noun(self, number: int) -> bool:
        """`the overhang`, `a drop of`: a noun with its article, no verb."""
        text = self.chunks[number].text
        if text.endswith((" of", "height", "heights", "projection", "soffit")):
            return True
        behind = self.chunks[number + 1] if number + 1 < len(self.chunks) else None
        if behind is not None and behind.kind == "is":
            return True
        before = self.chunks[number - 1] if number else None
        return before is not None and (
            before.kind in ("det", "its") or (before.kind == "word" and self._adjective(number - 1))
        )
