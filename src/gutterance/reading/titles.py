"""What the job is called: an address where one is said, else a first line that measures nothing."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.measure.numerals import read_numbers

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

STREETS = (
    "street|st|road|rd|lane|ln|avenue|ave|av|drive|dr|court|ct|close|cl|crescent|cres|cr|way|"
    "terrace|terr|place|pl|"
    "hill|row|boulevard|blvd|circle|cir|trail|trl|tr|mews|grove|gardens|park|view|square|sq|rise|"
    "bend|cross|crossing|"
    "hollow|path|walk|wharf|quay|point|ridge|heights|green|common|parade|loop|run|landing|chase|"
    "glen|meadow|meadows|"
    "bank|fold|mead|orchard|paddock|wood|woods|field|fields|dale|spur|manor|villas|cottages|yard|"
    "mill|mills|farm|brook|creek|springs|reach|side|slip|straight|strand|circuit|broadway|"
    "ridgeway|street south|street north|highway|hwy|esplanade|line|sideroad|concession|gate|"
    "alley|vale|brae|wynd|drove|turnpike|pike|cove|side road"
)
"""Last words of a street's name."""
NUMBER_WORDS = (
    "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|"
    "sixteen|seventeen|"
    "eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|oh|and"
)
"""Number words of a house number that was spoken."""
ADDRESS = re.compile(
    rf"\b(?:(?:unit|flat|lot|plot|no\.?|number|apt)\s*\d*[a-z]?,?\s+)?"
    rf"(?:(?<![\d:])(?<!\d )\d{{1,5}}(?:\s?[A-Da-d](?![a-z]))?(?!\s?(?:mm|cm|m)\b)"
    rf"|(?:(?:{NUMBER_WORDS})[\s-]+){{1,4}}"
    rf"|(?:lot|plot|unit)\s+(?:\d+|(?:{NUMBER_WORDS})))"
    rf",?\s*(?:(?!(?:foot|feet|inch|inches|ft|in|by|for|from|with|call|code|houses|properties|on)\b)"
    rf"[a-z][a-z'’.]*\s+){{1,3}}?(?:{STREETS})\b"
    rf"(?:\s+(?:{STREETS})\b)?"
    rf"(?:(?:(?<=\bRd)|(?<=Road)|(?<=Hwy)|(?<=\bLine))\s+\d{{1,3}}(?=\s*(?:\Z|[,.;(]|\s[-–—])))?",
    re.IGNORECASE,
)
"""A number and a street, as written or spoken."""
NUMBER_BEHIND = re.compile(
    rf"(?:\s+(?:place|job|house|one))?,?\s+(?:the\s+)?(?:number|no\.?)(?:\s+is|'s)?\s+"
    rf"(?P<number>\d{{1,4}}|(?:{NUMBER_WORDS})(?:[\s-](?:{NUMBER_WORDS})){{0,4}})"
    r"(?=\s*[,.;]|\s*\Z|\s+(?:so|and|um|uh|okay|ok|right|starting|here|it's|its|the|now|this|front|back|lower|upper|garage|left|main|first)\b)",
    re.IGNORECASE,
)
"""A house number said behind the name of the street."""
TOWN = re.compile(r",\s+[A-Z][a-z'’]+(?:[ -][A-Z][a-z'’]+)?(?=\s*(?:\Z|[.](?:\s|\Z)))")
"""A name or two behind an address, at the end of its line or sentence."""
KINDS_OF_HOUSE = frozenset(
    {
        "bungalow",
        "bung",
        "semi",
        "terrace",
        "terr",
        "cottage",
        "detached",
        "house",
        "duplex",
        "farm",
        "farmhouse",
    }
)
"""What a house is, behind its name: no part of the name."""
HOUSE_KIND_BEHIND = re.compile(rf",\s*(?:{'|'.join(sorted(KINDS_OF_HOUSE))})\b[.\s]*\Z", re.IGNORECASE)
LABEL = re.compile(
    r"\A\W*(?:job|house|site|address|title|property|re|subject|fwd?|project|for|survey|measure)"
    r"\s*(?:site|name|no\.?|number|address|sheet)?\s*(?:[:=-]|\t)\s*",
    re.IGNORECASE,
)
"""A word before the title that says that it is one: `Job: ...`."""
TALK = re.compile(
    r"\A\W*(?:(?:ok|okay|right|alright|so|hi|hey|um|uh|er|well|this is|we're at"
    r"|we are at|were at|i'm at|im at|at|job at|the job at|it's|its|it is|doing|job is|here at|now)\W+)+",
    re.IGNORECASE,
)
"""Words of someone starting to talk, before the title."""
FIRST_TEEN = 10
"""A smaller number behind a ten is part of it: `sixty six`."""
ROUND_HUNDRED = 100
TENS_WITH_HYPHEN = re.compile(rf"\A((?:(?:{NUMBER_WORDS})\s+)*[a-z]+ty)-({NUMBER_WORDS})\b", re.IGNORECASE)
"""A house number with a hyphen: `Sixty-six`, `one forty-four`."""
NUMBERED_NAME = re.compile(
    r"\A\W*(?:(?:ok|okay|right|this is|we're at|job|at)\W+)*"
    r"(?P<title>\d{1,5}[A-Za-z]? (?:[A-Z][\w'’]+ ?){1,4})(?=[,.;(]|\s[-–—]|\s{2}|\s*\Z)"
)
"""A number and a name in capitals, with no word for a street: `14 Quarry Hill`."""
NAMED_STREET = re.compile(
    rf"\b(?:at|on|for|is|the)\s+(?P<title>(?:[A-Z][\w'’]+\s+){{1,3}}(?:{STREETS.title()}))\b"
)
"""A street with no number: `at Quarry Lane`."""
STREET_THEN_NUMBER = re.compile(
    r"\b(?!(?:Okay|Ok|So|Right|Alright|Hi|Hey|Um|Uh|Well|This|Job|Now|And|At|On)\b)"
    rf"(?P<title>(?:[A-Z][\w'’]+\s+){{1,3}}?(?i:{STREETS}))\b(?={NUMBER_BEHIND.pattern})"
)
"""A street and the house's number behind it: `okay Quarry Lane number 40, starting on ...`."""
SAID_TO_BE_AT = re.compile(
    r"\b(?i:job(?:'s| is)?(?: at)?|(?:i'm|we're|im|were|out|over|here) at|address is|this is)\s+"
    r"(?P<title>\d{1,5}[A-Za-z]? (?:[A-Z][\w'’]+ ?){1,3})(?=[.,;])"
)
"""A number and a name in capitals behind words that say it is the job: `The job is at 19 Oakhollow.`."""
HOUSES = (
    "Cottage|Cottages|House|Granary|Smithy|Forge|Chapel|School|Schoolhouse|Stables|Dairy|Brewery|Vicarage|Abbey|"
    "Lookout|Cabins|Annexe|Estate|Gardens|Orchard|Paddock|Meadow|Farm|Farmhouse|Lodge|Rectory|Barn|Villa|Hall|Manor|Grange|Priory|Mill|Bungalow|"
    "End|Cote|Croft|Bothy|Ranch|Cabin|Chalet|Homestead|Station|Hollow|Bay|Hill|Point|Lea|Holt|Nook|Haven|Dene"
)
"""Last words of a house's or a place's name."""
HOUSE_NAME = re.compile(
    r"\A\W*(?:(?:ok|okay|right|so|hi|hey|well|um|uh|this is|we're at|were at|im at|i'm at|at|here at|job at"
    r"|job is|its|it's)\b\W*)*"
    rf"(?P<title>(?:(?-i:The\s+))?(?:(?-i:[A-Z])[\w'’]+\s+){{1,3}}(?-i:{HOUSES})\b"
    r"(?:,\s+(?:(?-i:[A-Z])[\w'’]+\s?){1,3})?)"
    r"(?=\s*[.,;:]|\s+(?:um|uh|its|it's|is|so|and|just|ok|okay|first)\b|\s[-–—]\s|\s*\Z|\s{2})",
    re.IGNORECASE,
)
"""A house by its name alone: `The Old Rectory, Nether Haddle.`, `right Bramble End um its a bungalow`."""
CAPITALS = re.compile(
    r"\A\W*(?!(?:Dear|Hi|Hiya|Hello|Hey|Evening|Morning|Afternoon|Good|Subject|From|To|Note|Notes|Ok|Okay"
    r"|Right|So|All|Just|We|The (?:front|back|house)|Job|Site|Survey|Measure|Gutter|Yes|No|Well|Sorry|Boss"
    r"|Mate|Sheet|Done|Date|Crew)\b)"
    r"(?P<title>[A-Z][\w'’]+(?:\s[A-Z][\w'’]*){0,3}(?:\s(?:job|place|cottage|house))?"
    r"(?:,\s[A-Z][\w'’]+(?:\s[A-Z][\w'’]+){0,2})?)(?=\.(?:\s|\Z)|,\s[a-z]|\s{2,}|\s[-–—]\s|\s*\Z)"
)
"""A line that begins with a name in capitals: `Fernlea, Upper Snoddon.`, `Marrick job. Front 42-6`."""
SHEET_NAME = re.compile(
    r"\A\W*(?:[\w'’]+ ){0,3}(?:sheet|form|survey|card|schedule|record|ticket|report|take-?off|notes?)\s*"
    r"(?:[-–—:|]\s*|\s[-–—]{1,2}\s)(?=[A-Za-z0-9])",
    re.IGNORECASE,
)
"""What a sheet calls itself, before the name of the job: `SURVEYOR'S SHEET - THE MANSE`."""
NUMBERED_JOB = re.compile(
    r"\A\W*(?:job|quote|estimate|ref|order|file|no\.?|#|card|page|sheet)\W*#?\s*\d+(?:\s*(?:of|/)\s*\d+)?\W*\Z",
    re.IGNORECASE,
)
"""The number of a job, before its address."""
NO_NAMES = frozenset(
    [
        "survey",
        "sheet",
        "notes",
        "note",
        "measure",
        "measurements",
        "job",
        "site",
        "gutter",
        "gutters",
        "list",
        "the",
        "of",
        "for",
        "walk",
        "round",
    ]
)
"""Words that alone make no title."""
MEASURING = frozenset(
    {
        "end",
        "outlet",
        "downpipe",
        "cue",
        "place",
        "direction",
        "part",
        "storey",
        "ends at",
        "profile",
        "unknown",
        "same",
        "clockwise",
        "colour",
        "material",
        "all",
        "run noun",
        "initial",
        "numbered",
        "quarter",
        "end pair",
    }
)
"""Kinds of items that make a first line one that measures."""
NAMES_NONE = frozenset(
    {"measure", "end", "end word", "outlet", "downpipe", "cue", "lr", "side", "colour", "profile", "same",
     "direction", "remark", "total", "material", "unknown", "clockwise", "heading", "all", "no"}
)  # fmt: skip
"""Kinds of items that no house's name is made of."""
SIZES = frozenset({"gutter size", "material size", "pipe size", "pitch", "thickness"})
"""Numbers that say what the gutter is, and so that a line is no title."""
NO_TITLE = re.compile(
    r"\b(?:(?:taken|measured|checked|drawn) by|mm|metric|imperial|throughout|I'm|I am|we are|going|gutter)\b"
    r"|\b(?:points?|corners?|letters?|numbers?|runs?|walls?|sides?)\s+(?:are\s+|is\s+)?(?:lettered|numbered|named|marked|go)\b",
    re.IGNORECASE,
)
"""Words of a sentence about the job, which is no name of it."""
LOOK_AT = 3
"""How many lines an address is looked for in."""
FEWEST_STAMPS = 3
"""From so many lines that open with a time on, the times are stamps."""
TIMESTAMP = re.compile(
    r"\A\s*[\[(]?\d{1,2}:\d{2}(?::\d{2})?\s*(?:[ap]\.?m\.?)?[\])]?\s*[-–:]?\s*", re.IGNORECASE
)
"""A time at the start of a line."""


def drop_timestamps(lines: list[Line], walk: Walk) -> None:
    """Times that open most lines (`10:42 front 24-9`) say when, not what."""
    stamped = [(line, match) for line in lines if (match := TIMESTAMP.match(line.text))]
    if len(stamped) < FEWEST_STAMPS or len(stamped) * 2 < sum(bool(line.text.strip()) for line in lines):
        return
    for line, match in stamped:
        line.items = [item for item in line.items if item.start >= match.end()]
        walk.aside.append((line.source(0, match.end()), "looks like a time of day"))


SIDE_OF_SOMETHING = re.compile(r"\b(?:left|right|each|either|both|other|per|a)\s+sides?\Z", re.IGNORECASE)
"""`dormer 2 left side`, `7 2 each side`: a side, and no street called so."""
UNIT_BEFORE = re.compile(r"\d\s*(?:ft|feet|foot|m|metres?|meters?|['’′])\s*\Z", re.IGNORECASE)
"""A number with its unit right before another: the second is no number of a house."""


def find_title(lines: list[Line], walk: Walk) -> None:
    """Set the walk's title and take its words out of the lines."""
    filled = [line for line in lines if line.text.strip()]
    for line in filled[:LOOK_AT]:
        match = ADDRESS.search(line.text)
        if match and UNIT_BEFORE.search(line.text[: match.start()]):
            continue  # `7 ft 2 each side`
        if match and _is_address(line, match.start(), match.end()):
            start = match.start()
            job = re.match(r"\d+\s+job\s+(?:at|is|on)\s+", match.group(), re.IGNORECASE)
            begin, end = start + (job.end() if job else 0), _with_town(line, match.end())
            _take(line, begin, end, walk, address=True)
            return
    if not filled:
        return
    if _closing_address(filled[LOOK_AT:], walk):
        return
    first = filled[0]
    match = (
        NUMBERED_NAME.match(first.text)
        or STREET_THEN_NUMBER.search(first.text)
        or NAMED_STREET.search(first.text)
        or SAID_TO_BE_AT.search(first.text)
    )
    if match and _is_address(first, match.start("title"), match.end("title")):
        _take(first, match.start("title"), match.end("title"), walk)
        _number_behind(first, match.end("title"), walk)
        return
    head = SHEET_NAME.match(first.text)
    name = None if head is not None else HOUSE_NAME.match(first.text) or CAPITALS.match(first.text)
    if name and _names_nothing_measured(first, name.start("title"), name.end("title")):
        _take(first, name.start("title"), name.end("title"), walk)
        return
    label = LABEL.match(first.text)
    start = label.end() if label else 0
    if label is None:
        if any(item.kind in MEASURING for item in first.items):
            return
        if any(
            item.kind == "measure"
            and item.found is not None
            and (item.found.kind == "length" or item.found.what in SIZES)
            for item in first.items
        ) or NO_TITLE.search(first.text):
            return
        if len(first.text) > 80 or TALK.match(first.text):
            return
        if any(item.kind == "remark" for item in first.items) and re.search(r"\d", first.text):
            return  # `call 555 0142 for the gate`
    if head is not None and label is None:
        start = head.end()
    end = len(first.text)
    ends = r",\s*(?:the\s+)?[A-Z](?:[- ]shaped?)?(?=[.,;]|\Z)"  # `Kirk steading, the T`
    ends += r"|,\s*\d\s?bed\b|,\s*(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\b|\s[-–—]\s|\.\s|\s\(|;|\t|\||\s{3,}"
    if re.search(r"\d", first.text[start:].split(",")[0]):
        ends += "|,"
    cut = re.search(ends, first.text[start:])
    if cut and cut.start() > 2:
        end = start + cut.start()
    kind = HOUSE_KIND_BEHIND.search(first.text[start:end])
    if kind is not None and kind.start() > 0:
        end = start + kind.start()
    if first.text[start:end].strip(" #*=-"):
        _take(first, start, end, walk)


def _closing_address(lines: list[Line], walk: Walk) -> bool:
    """An address that is all of one of the last lines, where none stands at the top."""
    for line in reversed(lines[-LOOK_AT:]):
        match = ADDRESS.fullmatch(line.text.strip(" #*=-."))
        if match is not None and _is_address(line, line.text.index(match.group()), len(line.text)):
            start = line.text.index(match.group())
            _take(line, start, start + len(match.group()), walk, address=True)
            return True
    return False


def _names_nothing_measured(line: Line, start: int, end: int) -> bool:
    """Whether the words of a house's name say nothing else: no side, no end, no outlet, no number."""
    inside = [item for item in line.items if item.start < end and start < item.end]
    telling = [item for item in inside if item.kind in NAMES_NONE and item.text.lower() != "old"]
    return not telling and any(item.kind == "word" for item in inside)


def _is_address(line: Line, start: int, end: int) -> bool:
    """Whether what looks like an address stands where one would: `42 6 outside the hill` is none."""
    inside = [item for item in line.items if item.start < end and start < item.end]
    kinds = {item.kind for item in inside if item.text.lower() != "oh"}  # `twelve oh five`: no overhang
    if kinds & {"end", "outlet", "downpipe", "cue", "ends at", "profile"}:
        return False
    if any(item.found is not None and item.found.what in SIZES for item in inside):
        return False
    if SIDE_OF_SOMETHING.search(line.text[start:end]):
        return False
    before = line.text[:start].strip(" #*=-")
    talk = TALK.match(before + " x")
    label = LABEL.match(line.text)
    if not before or label or NUMBERED_JOB.match(before) or (talk and talk.end() >= len(before)):
        return True
    return len(before.split()) <= 12 and not any(
        item.kind in ("measure", "place", "direction", "end") and item.end <= start and not _other(item)
        for item in line.items
    )


def _number_behind(line: Line, end: int, walk: Walk) -> None:
    """`the Kahu Terrace place, number sixty one`: the house number said behind the street's name."""
    said = NUMBER_BEHIND.match(line.text, end)
    numbers = read_numbers(said["number"]) if said is not None else []
    if said is None or len(numbers) != 1 or numbers[0].value.denominator != 1 or walk.title is None:
        return
    walk.title = f"{numbers[0].value} {walk.title}"
    source = line.source(said.start("number"), said.end("number"))
    walk.shown.append(source)
    walk.use_source(source)
    line.items = [item for item in line.items if not source.start <= item.start < source.end]


def _with_town(line: Line, end: int) -> int:
    """`7 Tanners Row, Ollerby`: where the address ends, with the town that closes its line."""
    town = TOWN.match(line.text, end)
    if town is None:
        return end
    inside = [item for item in line.items if item.start >= end and item.end <= town.end()]
    plain = all(item.kind in ("word", "break", "storey", "remark", "landmark", "filler") for item in inside)
    known = any(item.text.lower() in KINDS_OF_HOUSE for item in inside)
    return town.end() if plain and not known else end


def _other(item: object) -> bool:
    """Whether an item is a number that is no length."""
    found = getattr(item, "found", None)
    return found is not None and found.kind == "other"


def _take(line: Line, start: int, end: int, walk: Walk, *, address: bool = False) -> None:
    """Make these words the title."""
    source = line.source(start, end)
    text = source.text.strip(" #*=_-:.")
    text = house_number_in_figures(text) if address else text
    text = re.sub(r"\A(?:number|no\.?)\s+(?=\d)", "", text, flags=re.IGNORECASE)
    if not text or not set(re.findall(r"[a-z]+", text.lower())) - NO_NAMES or not _may_name_a_job(text):
        return
    walk.title = text
    walk.title_source = source
    walk.use_source(source)
    line.items = [item for item in line.items if item.end <= source.start or item.start >= source.end]
    if not any(item.kind in ("measure", "end", "outlet", "cue") for item in line.items):
        # `... (farmhouse and detached garage)`: what the house is, and nothing to measure yet
        line.items = [item for item in line.items if item.kind not in ("direction", "part", "storey", "lr")]


NO_NAME_OF_A_JOB = re.compile(
    r":|,\Z"  # somebody's turn to speak, a greeting
    r"|\A(?:dear|hi|hiya|hello|hey|subject|from|to|morning|afternoon|evening)\b"
    r"|[a-z]{4,}\.\s+\S"  # the end of one sentence and the start of the next
    r"|\A(?:\d{1,2}|one|two|three|four|five|six)\s+(?:sides?|ends?|runs?|corners?|stor(?:e?ys?|ies)|gutters?"
    r"|gables?|eaves|drops?|outlets?|pipes?|downpipes?|downspouts?|leaders?|spouts?|caps?)\b",
    re.IGNORECASE,
)
"""What a name never has: words of somebody talking, or a count of what is measured."""


def _may_name_a_job(text: str) -> bool:
    """Whether words can be what a job is called: a wrong name is worse than none."""
    return NO_NAME_OF_A_JOB.search(text) is None


_UNITS = {word: value for value, word in enumerate(NUMBER_WORDS.split("|")[:19], start=1)} | {"oh": 0}
_TENS = {word: 10 * value for value, word in enumerate(NUMBER_WORDS.split("|")[19:27], start=2)}


def house_number_in_figures(title: str) -> str:
    """A title whose house number was spoken, with the number as it stands on the door.

    Groups said one after the other stand one after the other: `four ten` is 410.

    >>> [house_number_in_figures(f"{said} Sorrel Drive") for said in ("four ten", "sixty six", "one oh five")]
    ['410 Sorrel Drive', '66 Sorrel Drive', '105 Sorrel Drive']
    >>> house_number_in_figures("Thirty-one Alder Row"), house_number_in_figures("two forty-six Alder Row")
    ('31 Alder Row', '246 Alder Row')
    >>> house_number_in_figures("two hundred and eight Fallow Row"), house_number_in_figures("Nine Elms")
    ('208 Fallow Row', '9 Elms')
    """
    words = TENS_WITH_HYPHEN.sub(r"\1 \2", title).split()
    groups: list[int] = []
    place = 1 if words[:1] and words[0].lower() in ("number", "no", "no.") else 0
    first = place
    tens_open = False
    while place < len(words):
        word = words[place].lower()
        if word == "hundred" and groups:
            groups[-1] *= 100
        elif word == "and" and groups and groups[-1] % 100 == 0:
            pass
        elif word in _TENS:
            _group(groups, _TENS[word])
            tens_open = True
            place += 1
            continue
        elif word in _UNITS:
            if tens_open and _UNITS[word] < FIRST_TEEN:
                groups[-1] += _UNITS[word]
            else:
                _group(groups, _UNITS[word])
        else:
            break
        tens_open = False
        place += 1
    if not groups or place >= len(words):
        return title
    return " ".join(["".join(map(str, groups)), *words[place:]]) if place > first else title


def _group(groups: list[int], value: int) -> None:
    """One more part of a spoken house number: behind a round hundred it is added, else it follows."""
    if groups and groups[-1] >= ROUND_HUNDRED and groups[-1] % ROUND_HUNDRED == 0:
        groups[-1] += value
    else:
        groups.append(value)
