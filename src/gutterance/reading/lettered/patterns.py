"""What the names of runs and of pipes look like in a line, and what may stand beside them."""

from __future__ import annotations

import re

NUMBER_WORDS = {
    word: str(number)
    for number, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], 1
    )
}
"""Number words that name runs."""
SPELLED = {
    "alpha": "a", "alfa": "a", "bravo": "b", "charlie": "c", "delta": "d", "echo": "e", "foxtrot": "f",
    "golf": "g", "hotel": "h", "india": "i", "juliet": "j", "kilo": "k", "lima": "l",
}  # fmt: skip
"""The letters as they are spelled over a radio (the ICAO spelling alphabet)."""
NOUNS = "run|wall|side|leg|section|stretch|eave|elevation|face|edge|line|gutter|piece|segment|length|number"
"""Things that stand before the name of a run."""
PIPES = r"down\W?pipe|down\W?spout|rwp|dp|ds|d|p|pipe|spout|leader|outlet|o|drop|pop"
"""Things that stand before the number of a pipe."""
_WORDS = "|".join(NUMBER_WORDS)
_RADIO = "|".join(SPELLED)
_NUMBER_SAID = (
    rf"(?:\d|\.\d|{_WORDS}|\w+teen\b|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|a hundred)"
)
_NO_UNIT = (
    r"(?!\d|\.\d|\s*(?:['\"′″’”]|/\d|-[0-9]|%|(?:ft|foot|feet|in|inch(?:es)?|mm|m|metres?|meters?|cm|x"
    r"|and a half"
    r"|guys|men|people|weeks?|days?|hours?|minutes?|storey|story)\b(?!\s*(?:from|the)\b)))"
)
NOUN_LED = re.compile(
    rf"(?<![\w-])(?P<noun>{NOUNS})s?\s*(?:no\.?\s*|nos\.?\s*|number\s+|#\s*)?"
    rf"(?:(?<=\s)|(?<=#)|(?<=\w)(?=\d))(?P<name>\d{{1,2}}(?![\w])|(?:{_WORDS})\b|(?-i:[A-N])(?!\w)|(?:{_RADIO})\b){_NO_UNIT}",
    re.IGNORECASE,
)
"""`wall one`, `Side B`, `run #3`, `legs 1`."""
HEARD_AS = {
    "for": "4",
    "fore": "4",
    "ate": "8",
    "to": "2",
    "too": "2",
    "won": "1",
    "tree": "3",
    "sex": "6",
    "tin": "10",
}
"""Words that a phone may write for a run's number. All common mis-hearings, no source."""
MISHEARD = re.compile(
    rf"\b(?:run|wall|side|leg|section)\s+(?P<name>{'|'.join(HEARD_AS)})"
    r"(?=\s+(?:is|goes|comes|has|runs|gets|same|\d|twenty|thirty|forty|fifty|sixty|\w+teen)\b)",
    re.IGNORECASE,
)
"""A run's number misheard, where the count of the runs has a gap."""
SMALL_NOUN_LED = re.compile(rf"\b(?:{NOUNS})\s+(?P<name>[a-n])\b", re.IGNORECASE)
"""`run b`, as a phone writes it."""
HASHED = re.compile(rf"(?<![\w#])#\s?(?P<name>\d{{1,2}}){_NO_UNIT.replace('|-[0-9]', '')}(?!\w{{2}})")
"""`#3`."""
ROW_OF_A_LIST = re.compile(
    r"^\s*(?:[-*•]\s*)?#\s?\d{1,2}[.):]?\s+(?:the\s+)?(?:front|back|rear|left|right|north|south|east|west|upper|lower|garage"
    r"|porch|bay|dormer)\b",
    re.IGNORECASE | re.MULTILINE,
)
"""`#1 Front 30-6`: the number of a list's row, where the run has a name of its own."""
GLUED = re.compile(r"(?<![\w])(?P<stem>[RWLSEG])(?P<name>\d{1,2})(?![\w'\"]|-\d)")
"""`R1`, where the other runs are R2 and R3."""
ROW = re.compile(
    r"\A\s*(?:[-*•]\s*)?(?P<name>\d{1,2})\s*(?P<sep>[.):=–-]?)(?=\s)\s+(?=(?:\w+\W+){0,4}?\d)(?P<rest>.*)\Z"
)
"""A line that opens with a number and has another behind it."""
STRONG_LETTER = re.compile(
    rf"(?:\A|(?<=[.;,!?(])|\b(?:and|so|then|now|well|um|uh|okay|ok|right)\b)\s*(?:[-*•]\s*)?"
    rf"(?P<name>[A-N]|(?i:{_RADIO})\b)"
    rf"(?:(?P<colon>\s*:)|\s*[=–-]\s|['’]s\s|\s+(?=(?i:{_NUMBER_SAID}))"
    r"|\s+(?:is|goes|runs|comes|measures|across|along|over at)\b|\s*[=,–-]\s*(?=\d))"
)
"""A letter that opens a clause with something said of it."""
SMALL_LETTER = re.compile(
    rf"(?:\A|(?<=[.;,\s]))(?P<name>[a-n])(?:['’]s\b|\s+is\s+(?=(?i:{_NUMBER_SAID}))|\s+(?=(?i:{_NUMBER_SAID})\b))"
)
"""The same as a phone writes it: `b is nine four`."""
LETTER_ROW = re.compile(r"\A\s*(?:[-*•]\s*)?\(?(?P<name>[A-Na-n])[.)](?=\s+(?:\S+\s+){0,4}?\S*\d)")
"""A letter with its point that opens a line, where a number stands behind it: `c. 3.1 int/ext`."""
PAIR = re.compile(r"(?<![\w/&-])(?P<first>[A-N])\s?(?:[-–/]|\s(?:to|and|&)\s)\s?(?P<second>[A-N])(?![\w/&'])")
"""Two letters that may meet: `A-B`, `A to B`, `C/D`."""
RANGE = re.compile(
    rf"\b(?:letter\w*|runs?|walls?|sides?|legs?|sketch\w*|page)\b.{{0,30}}?\b(?P<first>[A-N]|(?i:{_RADIO}))"
    rf"\s*(?:to|through|thru|-|–)\s*(?P<last>[A-N]|(?i:{_RADIO}))\b"
)
"""`letters on the page, A to E`."""
DECLARED = re.compile(
    r"\b(?:lettered|letters?|numbered|numbering|numbers|nos\.?|runs? nos?|#'?d|no'?d)\b", re.IGNORECASE
)
"""Words by which a note says that its runs have letters or numbers."""
CLOCKWISE = re.compile(
    r"(?<!anti)(?<!anti.)(?<!counter)(?<!counter.)\bclock\W?wise\b|(?<![a-z])cw(?![a-z])"
    r"|\b(?:letters?|numbers?|nos)\b[^.]{0,30}\bto the left\b",
    re.IGNORECASE,
)
"""Words that say that the names go clockwise round the house."""
IN_ORDER = re.compile(
    r"clock\W?wise|\bccw\b|\bcw\b|\ball (?:the way )?round\b|\band so on round\b|\bin order\b"
    r"|\bto the right\b|\bgoing right\b"
    r"|\bleft to right\b|\bgoing round\b|\bround the house\b|\bto the left\b",
    re.IGNORECASE,
)
"""Words that say that the names go round the house in their order."""
NO_ORDER = re.compile(
    r"\b(?:no|not in(?: any)?|any|in no)\s+(?:particular |special |real )?order\b|\bany old order\b",
    re.IGNORECASE,
)
"""Words that say that the names have no order."""
CLOSES = re.compile(
    r"\b(?:it|that|which) (?:all )?closes\b|\bback (?:round )?(?:on)?to (?:A|one|1|alpha|the start)\b"
    r"|\bhips? (?:all|right) (?:over|round)\b"
    r"|\b(?:all|right|the whole way|all the way) (?:a)?round\b",
    re.IGNORECASE,
)
"""Words that say that the last run meets the first."""
LABEL = re.compile(
    rf"(?<![\w/#-])(?P<thing>{PIPES})s?\s*(?:no\.?\s*|#\s*)?(?P<name>\d{{1,2}})(?![\w'\"′″/]|-\d|\.\d|\s*(?:ft|foot|in|mm|m|x)\b)",
    re.IGNORECASE,
)
"""The label of a pipe: `DP1`, `P4`, `pipe 3`."""
LETTER = re.compile(rf"(?<!\w)(?:(?P<one>[A-N])|(?P<two>[A-N][A-N])|(?P<radio>(?i:{_RADIO})))(?![\w])")
AFTER_A = re.compile(
    rf"\s*(?:\Z|[^\w\s]|\d|(?:{_WORDS}|\w+teen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|is|was|has|gets|got|at"
    r"|on|to|and|or|both|left|right|goes|runs|same|end|from|meets|meet|in|into|down|then|be|should|needs|no|cap|caps|capped"
    r"|os|osc|is|isc|oc|ic|ext|int|external|internal|l|r|lh|rh|le|re|centre|center|ctr|mid|middle|overall|outside|inside|corner|cnr|stops?|wall|each"
    r"|along|across|round|around|over|comes|measures|only|ends?|outlet|drop|pipe|downpipe|dp|ds|street|the|for|through|thru)\b)",
    re.IGNORECASE,
)
"""What may stand behind A as the name of a run; behind the article stands what it is of."""
BEFORE_A = re.compile(
    r"(?:\b(?:the|in|on|at|of|to|from|as|with|meets?|and|or|end of|under|over|by|off|like|onto|into|below"
    r"|above|behind|is)|[&/+=,(-])\s*\Z",
    re.IGNORECASE,
)
"""What stands before A as the name of a run in the middle of words."""
NOUN_FOR_A = re.compile(r"\s+(?:drop|pipe|downpipe|outlet|dp|wall|cap|corner|stop|down)\b", re.IGNORECASE)
"""`A drop at ...` may be one drop, or the drop of run A."""
NO_RUN_BEFORE = re.compile(
    r"\b(?:unit|apt|bldg|building|block|plot|lot|flat|type|class|plan|option|phase|suite|grade|mr|mrs|ms)\s+\Z",
    re.IGNORECASE,
)
"""Words before a letter that is no run's."""
NO_RUN_BEHIND = re.compile(r"\s*(?:unit|condenser|compressor|pad)\b", re.IGNORECASE)
"""Words behind `A/C` by which it is no corner."""
CORNER_NEAR = re.compile(
    r"\b(?:corners?|cnrs?|mit(?:er|re)s?|inside|outside|osc?|isc?|oc|ic|ext|int|internal|external|45|90|out|in)\b",
    re.IGNORECASE,
)
CORNER_WORD = re.compile(
    r"\b(?:corners?|cnrs?|nook|mit(?:er|re)s?|inside|outside|osc?|isc?|oc|ic|ext|int|internal|external)\b",
    re.IGNORECASE,
)
_BARE = rf"(?:\d{{1,2}}|(?i:{_WORDS})\b)"
_END_OF_NAME = (
    r"(?=['’]s\b|\s*(?:\Z|[.,;:)(&/+]|[-–](?!\d))|\s+(?i:end|corner|cnr|and|is|outside|inside|osc?|isc?|ic|oc|wall|all|at|caps?"
    r"|left|right|l|r|both|on|meets?|it|that|so|then|the|to|into|but|one|which|run|leg|side|same|goes|gets|has|in\s+(?:the|its|that))\b)"
)
REFERRED = re.compile(
    rf"\b(?i:at|into|onto|to|with|meets?|joins?|from|on|off|of|by|as|like|and|between|under|over)\s+(?P<name>{_BARE}){_END_OF_NAME}"
)
"""A run by its bare number, behind a word that refers to it: `inside at three`, `into 4`."""
OWNED = re.compile(rf"(?<![\w'-])(?P<name>(?i:{_WORDS}))(?=['’]s\s)")
"""`two's left end`."""
ITS_END = re.compile(rf"(?<![\w'-])(?P<name>{_BARE})(?=\s+(?i:end|corner|cnr)\b)")
"""`the 6 end`."""
MEET = re.compile(
    rf"(?<![\w'./-])(?P<first>{_BARE})\s*(?:[-–/&+]|(?i:to|and))\s*(?P<second>{_BARE})(?![\w'\"]|\.\d|/|-)"
)
"""Two numbers that may be of runs that meet: `1/2 corner`, `3-4 inside`."""
LISTED = re.compile(
    rf"(?P<before>\A\s*|[,;:/.]\s*|\b(?:and|&)\s+)(?P<name>{_BARE})"
    r"(?=\s*(?:[-–=:@]\s*)?(?i:at\b|left|right|L\b|R\b|both|each|cent|ctr|mid|\w+ end\b|none"
    r"|no\b|same|end|on\b|drop|outlet|@|is\b))"
)
"""A bare number that opens a clause about a place: `1 at the cap, 2 street end`."""
ONE_OF_THEM = re.compile(
    r"\s+(?:on|at|in|each|of|for|by|with|over|up|down|is|drop|outlet|pipe)\b", re.IGNORECASE
)
"""What stands behind `one` that is no run: `and one on five`."""
ASKED = re.compile(
    rf"\A(?:\s*\w+\s*:)?\s*(?:(?i:and|so|right|ok|okay|then|what about|now)\s+)*(?P<name>{_BARE})\s*\?"
)
"""A run asked for by its number: `three?`."""
ALSO = re.compile(
    rf"(?P<join>\s*(?:,|&|\+|/|-|–|\b(?i:and|to|thru|through|or)\b)\s*)(?P<sign>#?)(?P<name>{_BARE})"
)
"""One more number behind a name: `runs 1, 2 and 4`."""
AFTER_ALSO = re.compile(
    r"(?!\w|['’\"′″]|\.\d|/\d|-\d|\s*(?i:ft|foot|feet|in|inch(?:es)?|mm|m|metres?|and a half"
    r"|drops?|outlets?|pipes?|guys|men"
    rf"|{_WORDS}|\w+teen|twenty|thirty|hundred)\b|\s+\d)"
)
SAME_BEFORE = re.compile(r"\b(?:same as|as|like|ditto|with)\s+(?:for\s+)?\Z", re.IGNORECASE)
"""Words before a pipe's label by which another pipe is like it."""
SMALL_ALONE = re.compile(
    r"(?<![\w'/.-])(?P<name>[b-n])(?=['’]s\b|\s+(?:is|has|to|and|end|at|left|right|both|on|meets)\b|\s*[=:]|\s*,\s*[a-n]\b|\s+\d|\s*\Z)"
)
"""A small letter that names a run, in a note that letters its runs so."""
SMALL_A = re.compile(r"(?:\A|[,.;]\s*|\band\s+)(?P<name>a)(?=['’]s\b|\s+(?:is|has|to|and|at)\s|\s+\d)")
"""A small `a` that opens something said of run A."""
ROW_PARTED = re.compile(r"\s*\d{1,2}\s{2,}")
"""A number that opens a line, parted from the rest as a column is."""
LABEL_ROW = re.compile(
    r"\A\s*(?:[-*•]\s*)?(?P<name>[A-Za-z])[.):]?\s+(?:is\s+)?(?:on|off|at the|@)\s+(?=(?:\w+\s+)?\d)",
    re.IGNORECASE,
)
"""`P on 1 at the 8/1 corner`: a pipe by its letter, in a note whose runs have numbers."""
