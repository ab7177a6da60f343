"""The sheet that the rules made, held against what the trained reader claims of the same note.

Two readers that know nothing of each other seldom make the same mistake. Where both say the same, a doubt
about how words hang together is lifted; where they differ, the value is asked about; what only the trained
reader has goes on the sheet as a doubt. No certain value ever comes from the trained reader alone.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.reading.trained.adding import add_missing
from gutterance.reading.trained.second_look import SecondLook
from gutterance.reading.trained.telling import WHOLE_HOUSE
from gutterance.sheet.models import Alternative, Reading
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.reading.trained.heard import Heard
    from gutterance.reading.trained.telling import Claim
    from gutterance.sheet.models import Sheet

LIFTS, AGAINST = 0.75, 0.2
"""So sure must an agreeing claim be to lift a doubt, and no surer any claim against it."""
DOUBTS = 0.8
"""So sure must a claim be for a certain value that differs from it to be asked about."""
FEWEST_ALIKE, SHARE_ALIKE = 6, 0.85
"""So many values, and such a share of them, must both readers have alike before either can judge."""
SHORTEST = 50
"""A note of fewer items is too short to show a manner of telling: it is left to the rules."""
AGREED = "read alike a second way"
SECOND_WAY = "a second way of reading"
OTHERWISE = "read a second way it says otherwise"
ABOUT_HOW_WORDS_HANG = re.compile(
    r"numbers found no place|said with no word of what it measures|\Ataken (?:as|for)|beside it is not known"
    r"|before it are not known|\Asaid of (?:all|no)\b|not said which downpipe|its outlet is in doubt"
    r"|in its row was not understood|\Asaid (?:first|last) of the two"
    r"|said before the length|\Athe run ends there|\Awhere the run ends"
    r"|read as (?:a sentence|shorthand rows) it says otherwise|is this of the house alone"
    r"|several numbers stand behind one word|more numbers than places|\Athe end that was left"
)
"""Doubts about which words belong together, which a second reading can lift."""
OF_OUTLET = frozenset({"height", "wall_to_fascia", "ends_at", "distance"})
"""Fields of an outlet and its pipe."""
NO_DOUBT = re.compile(
    r"\A(?:units as said|bare .* (?:after|as|on)|two bare numbers (?:after|as)|numbers run together|said by"
    r"|same as|corrected by the measurer|as the walk goes|the same corner|a bare)\b"
)
"""Words in a reading's why that tell how it was read, and doubt nothing."""


def hold_against(sheet: Sheet, heard: Heard) -> None:
    """Hold the sheet against the trained reader's claims: lift doubts, raise others, add what was missed."""
    if len(heard.symbols) < SHORTEST:
        return
    from gutterance.reading.trained.listening import listen

    claims = [claim for claim in listen(heard.symbols, metric=heard.metric) if claim.run != WHOLE_HOUSE]
    look = SecondLook(claims)
    values = list(_values(sheet))
    if _understood(values, look):
        for path, reading, run, side in values:
            _judge(reading, path.rsplit(".", 1)[-1], run, side, look)
    add_missing(sheet, look)


def _understood(values: list[tuple[str, Reading[Any], str, str | None]], look: SecondLook) -> bool:
    """Whether the trained reader is at home in the note: of most values it says the same.

    A manner of writing that the marked notes have not is not understood, however sure the claims are.
    """
    same = other = 0
    for path, reading, run, side in values:
        if reading.value is not None:
            agreeing, against, _ = look.votes(path.rsplit(".", 1)[-1], run, side, reading.value)
            same += agreeing > against
            other += against > agreeing
    return same >= FEWEST_ALIKE and same >= SHARE_ALIKE * (same + other)


def _values(sheet: Sheet) -> Iterator[tuple[str, Reading[Any], str, str | None]]:
    """Each value that both readers could have: its path, its reading, and the run and side it is of."""
    for run in sheet.runs:
        for name in ("length", "left_end", "right_end", "roof_run"):
            reading = getattr(run, name)
            if reading is not None:
                yield f"runs.{run.id}.{name}", reading, run.id, None
    for outlet in sheet.outlets:
        if outlet.place is not None and outlet.place.value is not None:
            yield f"outlets.{outlet.id}.outlet", outlet.place, outlet.run, outlet.place.value
        if outlet.distance is not None:
            yield f"outlets.{outlet.id}.distance", outlet.distance, outlet.run, outlet.from_
    for pipe in sheet.downpipes:
        above = sheet.outlet(pipe.outlet)
        if above is None:
            continue
        for name in ("height", "wall_to_fascia", "ends_at"):
            reading = getattr(pipe, name)
            if reading is not None:
                yield f"downpipes.{pipe.id}.{name}", reading, above.run, above.from_


def _judge(reading: Reading[Any], name: str, run: str, side: str | None, look: SecondLook) -> None:
    """Lift or raise a doubt about one value."""
    if reading.value is None or reading.status == "missing":
        return
    agreeing, against, other = look.votes(name, run, side, reading.value)
    if reading.status == "doubtful":
        if name in OF_OUTLET and not look.of("outlet", run, side):
            return  # both may have made up the pipe
        if agreeing >= LIFTS and against <= AGAINST and _may_be_lifted(reading):
            reading.status = "corrected" if reading.was else "read"
            reading.why = f"{AGREED}; {reading.why}" if reading.why else AGREED
        elif other is not None and against > agreeing:
            _also(reading, other)
        return
    if reading.status not in CERTAIN or reading.status == "inferred":
        return
    if agreeing < AGAINST and against >= DOUBTS and other is not None:
        reading.status = "doubtful"
        reading.why = f"{OTHERWISE}; {reading.why}" if reading.why else OTHERWISE
        _also(reading, other)


def _may_be_lifted(reading: Reading[Any]) -> bool:
    """Whether all that is doubted is how words hang together."""
    whys = [why.strip() for why in (reading.why or "").split(";")]
    return all(ABOUT_HOW_WORDS_HANG.search(why) or NO_DOUBT.search(why) for why in whys if why)


def _also(reading: Reading[Any], claim: Claim) -> None:
    """Keep a claim's value beside the one that stands."""
    if all(claim.value != one.value for one in reading.could_be) and claim.value != reading.value:
        reading.could_be = [
            *reading.could_be,
            Alternative[Any](value=claim.value, why=SECOND_WAY),
        ]
