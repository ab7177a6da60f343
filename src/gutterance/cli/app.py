"""The commands. Each imports what it needs when it runs, so that help and small commands stay quick."""

from __future__ import annotations

from typing import Annotated, Literal

import typer

from gutterance.cli.statuses import ExitStatus, statuses_text

_EPILOG = f"""\b
Exit statuses:
{statuses_text()}

\b
Examples:
  gutterance demo
  gutterance run job.txt --out job
  gutterance read job.txt --out job.json
  gutterance explain job.json runs.front.length
  gutterance length fifty eight foot six and a quarter

Wherever a file is asked for, - is standard input. Results go to standard output, talk to standard error.
"""

app = typer.Typer(
    name="gutterance",
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "terminal_width": 80, "max_content_width": 80},
    epilog=_EPILOG,
)

NotesArgument = Annotated[
    list[str],
    typer.Argument(
        metavar="NOTE",
        help="The note: text, captions (.srt, .vtt) or a JSON transcript; - is standard input. "
        "Several files are one walk-round, in that order.",
    ),
]
DayNotesArgument = Annotated[
    list[str],
    typer.Argument(
        metavar="NOTE",
        help="The note: text, captions (.srt, .vtt) or a JSON transcript; - is standard input. "
        "Several are a day's jobs, one a note; of one walk-round only with --one-walk.",
    ),
]
SheetArgument = Annotated[
    str,
    typer.Argument(metavar="SHEET", help="The field sheet, as `read --out` writes it; - is standard input."),
]
SourceArgument = Annotated[
    str, typer.Argument(metavar="SHEET", help="The field sheet, or the note it was read from.")
]
SourcesArgument = Annotated[
    list[str],
    typer.Argument(
        metavar="NOTE|SHEET",
        help="One field sheet, or the notes of one walk-round; - is standard input.",
    ),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print JSON in place of text.")]
OutFolder = Annotated[
    str | None,
    typer.Option("--out", metavar="DIR", help="Write all lists into this folder (made if not there)."),
]
ShopOption = Annotated[
    str | None,
    typer.Option("--shop", metavar="FILE", help="The shop's own rules (TOML) over the trade's defaults."),
]
WordsOption = Annotated[
    str | None,
    typer.Option(
        "--words",
        metavar="FILE",
        help="The shop's own words (TOML); if not given, words.toml beside the --shop file.",
    ),
]
PaperOption = Annotated[
    str | None,
    typer.Option(
        "--paper", metavar="SIZE", help="letter or a4; else A4 for a metric job, letter for others."
    ),
]
OnlyOption = Annotated[
    str | None,
    typer.Option(
        "--only",
        metavar="NAMES",
        help="Write only these, as in cut,install: cut, install, load, office, "
        "labels (PDF); plan, strips, pipes (SVG); xlsx; dxf; text; csv; json.",
    ),
]
PricesOption = Annotated[
    str | None,
    typer.Option(
        "--prices",
        metavar="FILE",
        help="The shop's price list (CSV) for the quantities; if not given, prices.csv beside the "
        "--shop file.",
    ),
]
FirstLabelOption = Annotated[
    int | None,
    typer.Option(
        "--first-label", metavar="N", help="Begin at label N of a sheet of labels already begun, row by row."
    ),
]
RainfallOption = Annotated[
    str | None,
    typer.Option(
        "--rainfall",
        metavar="RATE",
        help="The design rainfall, as in '6 in/h' or '75 mm/h'; its storm may follow: "
        "'3.63 in/h, 60 min, 100 yr'.",
    ),
]
RainFileOption = Annotated[
    str | None,
    typer.Option("--rain-file", metavar="FILE", help="A saved NOAA Atlas 14 point CSV in its place."),
]
ReturnPeriodOption = Annotated[
    str | None,
    typer.Option("--return-period", metavar="YEARS", help="Of the storm; else the method's usual one."),
]
DurationOption = Annotated[
    str | None,
    typer.Option("--duration", metavar="MINUTES", help="Of the storm; else the method's usual one."),
]
RainMethodOption = Annotated[
    str | None,
    typer.Option("--rain-method", metavar="NAME", help="The method; else the shop file's. See `rain`."),
]


def _version(wanted: bool) -> None:
    if wanted:
        from gutterance import __version__

        print(f"gutterance {__version__}")
        raise typer.Exit(ExitStatus.DONE)


@app.callback(epilog=_EPILOG)
def gutterance(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and exit.")
    ] = False,
    traceback: Annotated[
        bool, typer.Option("--traceback", help="Show where an error came from. May stand anywhere.")
    ] = False,
) -> None:
    """From a walk-round's words to the lists a gutter crew works from.

    A note goes in: what a measurer typed or dictated while walking round a house.
    Out come a read-back to check on the spot, the questions still open, the cut list
    for the machine, the downpipe list and the install sheet.

    No number is lost, no guess is silent, and every number can be traced to its
    words. What rests on an open question is put on hold: listed, marked, and kept out
    of the machine order.
    """


@app.command(
    epilog="""\b
Examples:
  gutterance read job.txt
  gutterance read job.txt --out job.json
  gutterance read front.txt back.txt
  gutterance read walk.vtt
  gutterance read job.txt --explain job.html
  gutterance read - --json < job.txt

Exit status 3 says that a value is doubtful or missing, or that words with a number
in them were not understood."""
)
def read(
    notes: NotesArgument,
    out: Annotated[
        str | None, typer.Option("--out", metavar="FILE", help="Write the field sheet to this file.")
    ] = None,
    explain: Annotated[
        str | None,
        typer.Option(
            "--explain", metavar="HTML", help="Write a page that shows what each word was taken for, and why."
        ),
    ] = None,
    words: WordsOption = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Read a note into a field sheet and read it back to you.

    Every run, end, outlet and downpipe is shown as it was understood, with a word
    beside each value that was assumed, doubted or is missing, and the words that found
    no place at the end. The note itself is never changed.

    Typed shorthand and dictated sentences are both read, one run a line or several in
    a breath. Left and right are as seen from the ground, facing the wall.
    """
    from pathlib import Path

    from gutterance.cli import work
    from gutterance.cli.inputs import open_notes_to_read
    from gutterance.cli.showing import put, show, talk
    from gutterance.cli.trade_words import own_words_for

    note = open_notes_to_read(notes)
    sheet = work.standing_of(work.sheet_of(note, own_words_for(words, shop)), notes).sheet
    if explain is not None:
        work.save_explained(sheet, note.name, Path(explain))
        talk(f"wrote what was read, and why, to {explain}")
    if out is not None:
        work.save_sheet(sheet, Path(out))
        talk(f"wrote the field sheet to {out}")
    if as_json:
        put(work.sheet_json(sheet))
    else:
        from gutterance.render.readback import read_back

        show(read_back(sheet))
    raise typer.Exit(work.sheet_status(sheet))


@app.command(
    epilog="""\b
Examples:
  gutterance check job.txt
  gutterance check front.txt back.txt
  gutterance read job.txt --json | gutterance check - --json

Exit status 3 says that a question is open."""
)
def check(
    sources: SourcesArgument,
    words: WordsOption = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Say what a careful measurer would ask before driving off.

    Gaps that stop a list, contradictions, doubts and unlikely values, each with a question in plain words and
    what it holds up. What stops most comes first.
    """
    from gutterance.checking import closures
    from gutterance.cli import work
    from gutterance.cli.inputs import open_sheet_or_notes
    from gutterance.cli.showing import show, show_json
    from gutterance.cli.trade_words import own_words_for

    stands = work.standing_of(open_sheet_or_notes(sources, own_words_for(words, shop)), sources)
    if as_json:
        show_json(work.findings_data(stands.findings))
    else:
        from gutterance.render.findingslist import findings_text

        show(findings_text(stands.findings), "\n".join(closures(stands.sheet)))
    raise typer.Exit(work.findings_status(stands.findings))


@app.command(
    epilog="""\b
Examples:
  gutterance ask job.txt
  gutterance ask job.json
  gutterance ask front.txt back.txt --json

Exit status 3 says that a question is open."""
)
def ask(
    sources: SourcesArgument,
    words: WordsOption = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """List the questions still open, each answerable in a few words.

    First the one whose answer frees the most pieces and pipes. Where a value would
    settle it, it is offered with its reason, by a letter; none is ever put on the sheet
    by itself. Answer on the walk (`walk`), in the note, or with `amend`.
    """
    from gutterance.checking import open_questions
    from gutterance.cli import asking, work
    from gutterance.cli.inputs import open_sheet_or_notes
    from gutterance.cli.showing import show, show_json
    from gutterance.cli.trade_words import own_words_for

    stands = work.standing_of(open_sheet_or_notes(sources, own_words_for(words, shop)), sources)
    questions = open_questions(stands.sheet, stands.findings)
    if as_json:
        show_json(asking.questions_data(questions))
    else:
        show(asking.questions_text(questions, stands.sheet.title))
    raise typer.Exit(work.findings_status(stands.findings))


@app.command(
    epilog="""\b
Examples:
  gutterance walk job.txt
  gutterance walk job.txt --by Ann

\b
On the walk:
  Front 42-6 OSC both ends     said for the note
  9 2                          an answer to the question last asked
  a                            its first suggestion; yes confirms what it asks
  2: 24                        an answer to open question 2
  note: 42 Elm, call first     said for the note, whatever it looks like
  open, show, undo, help, quit

Exit status 3 says that a question is open when you leave."""
)
def walk(
    note: Annotated[
        str, typer.Argument(metavar="NOTE", help="The note, plain text; made if it is not there.")
    ],
    by: Annotated[
        str, typer.Option("--by", metavar="NAME", help="Who answers: kept with each answer.")
    ] = "the measurer",
    words: WordsOption = None,
    shop: ShopOption = None,
) -> None:
    """Walk the house with gutterance beside you.

    Type or paste one utterance a line. Each is read back in a line or two, with the
    next open question; answers are read in that question's context. Every line is on
    the disk before it is acknowledged, and `undo` takes back the last one, so you may
    leave at any time and go on later: nothing is lost.

    What you say is added to NOTE; answers are kept beside it, as `amend` keeps them.
    """
    from gutterance.cli.trade_words import own_words_for
    from gutterance.cli.walking import run_walk

    raise typer.Exit(run_walk(note, by, own_words_for(words, shop)))


@app.command(
    epilog="""\b
Examples:
  gutterance amend job.json runs.back.length 42-6 --by Ann --why "measured"
  gutterance amend job.json runs.back.left_end "end cap" --by Ann --why photo
  gutterance amend job.json runs.back-2 none --by Ann --why "said twice"
  gutterance amend job.json runs.back.length --withdraw --by Ann --why slip

Exit status 3 says that a question is still open."""
)
def amend(
    sheet: SourceArgument,
    path: Annotated[str, typer.Argument(metavar="PATH", help="Which value, as in runs.front.length.")],
    by: Annotated[str, typer.Option("--by", metavar="NAME", help="Who says so.")],
    why: Annotated[str, typer.Option("--why", metavar="TEXT", help="Why it is so.")],
    value: Annotated[
        str | None,
        typer.Argument(
            metavar="VALUE",
            help="What it is, in words or tape language; none takes a part off.",
        ),
    ] = None,
    withdraw: Annotated[
        bool, typer.Option("--withdraw", help="Take back the last amendment of this value.")
    ] = False,
    words: WordsOption = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Put one value right, and keep who did it, when and why.

    The note and the sheet stay as they are. The amendment is added to a file beside
    them (job.amendments.jsonl for job.txt and job.json), and `check`, `lists`, `run`
    and the others show the sheet with it on top, marked as corrected. Reading the note
    again keeps it; if it no longer fits then, `check` says so. To confirm a value, amend
    it to what it is.
    """
    from gutterance.cli import work
    from gutterance.cli.amending import amendment_of, told, withdrawal_of
    from gutterance.cli.amendment_files import add_amendments, amendments_beside, amendments_of
    from gutterance.cli.inputs import open_sheet_or_notes
    from gutterance.cli.refusals import Refusal
    from gutterance.cli.showing import show, show_json, talk
    from gutterance.cli.trade_words import own_words_for

    if sheet == "-":
        raise Refusal("an amendment is kept beside its sheet: give the sheet's file, not standard input")
    if (value is None) is not withdraw:
        raise Refusal(f"say what {path} is, or --withdraw to take back its last amendment: one of the two")
    if not by.strip() or not why.strip():
        raise Refusal("say who amends it (--by) and why (--why): both are kept with it")
    opened = open_sheet_or_notes([sheet], own_words_for(words, shop))
    kept = amendments_of([sheet])
    file = amendments_beside(sheet)
    if value is None:
        made = withdrawal_of(kept, path, by.strip(), why.strip(), sheet)
    else:
        stands = work.standing_of(opened, [sheet]).sheet
        made = amendment_of(stands, path, value, by.strip(), why.strip())
    add_amendments(file, [made])
    if as_json:
        show_json(made.model_dump(mode="json"))
    else:
        show(f"withdrawn: {path}" if value is None else told(made))
    talk(f"kept in {file}")
    raise typer.Exit(work.findings_status(work.standing_of(opened, [sheet]).findings))


@app.command(
    epilog="""\b
Examples:
  gutterance history job.json
  gutterance history job.json runs.back.length
  gutterance history job.txt --json"""
)
def history(
    sheet: SourceArgument,
    path: Annotated[str | None, typer.Argument(metavar="PATH", help="Only this value or part.")] = None,
    words: WordsOption = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what was amended: from what, to what, by whom, when and why.

    Withdrawn amendments are shown too: nothing that anybody put right is ever dropped.
    """
    from gutterance.cli.amending import history_text
    from gutterance.cli.amendment_files import amendments_of
    from gutterance.cli.inputs import open_sheet_or_notes
    from gutterance.cli.showing import show, show_json
    from gutterance.cli.trade_words import own_words_for

    opened = open_sheet_or_notes([sheet], own_words_for(words, shop))
    kept = amendments_of([sheet])
    if as_json:
        show_json([one.model_dump(mode="json") for one in kept if path is None or one.path == path])
    else:
        show(history_text(opened, kept, path))


@app.command(
    epilog="""\b
Examples:
  gutterance lists job.json --out job
  gutterance lists job.json --out job --shop shop.toml
  gutterance lists job.json --out job --paper a4 --only cut,install
  gutterance lists job.json --out job --only labels --first-label 7
  gutterance lists job.json --out job --only xlsx --prices prices.csv
  gutterance lists job.json --rainfall "6 in/h" --rain-method "metal trade"
  gutterance lists job.json --json

Exit status 3 says that a piece or a pipe is on hold, or that an outlet gets more
rain than it can take."""
)
def lists(
    sheet: SheetArgument,
    out: OutFolder = None,
    paper: PaperOption = None,
    only: OnlyOption = None,
    shop: ShopOption = None,
    prices: PricesOption = None,
    first_label: FirstLabelOption = None,
    rainfall: RainfallOption = None,
    rain_file: RainFileOption = None,
    return_period: ReturnPeriodOption = None,
    duration: DurationOption = None,
    rain_method: RainMethodOption = None,
    as_json: JsonOption = False,
) -> None:
    """Make the crew's lists from a field sheet.

    Prints the cut list and the downpipe list; --out writes the papers to print (cut
    list, install sheet, load list, office summary and labels as PDF), the drawings
    (SVG), the plan for those who draw (DXF), the quantities with the shop's prices
    (XLSX, CSV), and all lists as text, CSV and JSON. Each page bears a short code of the sheet's
    version, so that an old print is seen to be old. Left and right are as the
    installer faces the wall. What is on hold is marked, and is kept out of the
    machine order. Rainfall is never guessed: without it the check says so.
    """
    from gutterance.cli import work
    from gutterance.cli.inputs import open_sheet
    from gutterance.cli.rain import rain_asked

    asked = rain_asked(rainfall, rain_file, return_period, duration, rain_method)
    stands = work.standing_of(open_sheet(sheet), [sheet])
    raise typer.Exit(
        work.finish_lists(
            stands.sheet,
            stands.findings,
            out,
            shop,
            as_json=as_json,
            with_sheet=False,
            rain=asked,
            paper=paper,
            only=only,
            prices=prices,
            first_label=first_label,
        )
    )


@app.command(
    epilog="""\b
Examples:
  gutterance rain job.json --rainfall "75 mm/h" --rain-method "EN 12056-3"
  gutterance rain job.json --rainfall "8 1/4 in/h" --rain-method "metal trade"
  gutterance rain job.json --rain-file atlas14.csv --rain-method "IPC 2015"
  gutterance rain job.json --shop shop.toml --roof-run 14-6 --roof-pitch 6/12

\b
Methods, each with its own storm, areas and capacities (docs/methods.md):
  EN 12056-3:2000       gutters, holes, downpipes; storm by national rules
  IPC 2015              2015 to 2021: confirmed rows only; 60 min, 100 yr
  IPC 2012              2012 and older; 60 min, 100 yr
  NSPC 2006             leaders only; 60 min, 100 yr
  metal trade           SMACNA, 1200/I, Beij's gutters; 5 min, 10 or 100 yr
  AS/NZS 3500.3:2018    catchment and flow only; 5 min, 20 or 100 yr

Exit status 3 says that an outlet gets more rain than it can take, or that something
is missing."""
)
def rain(
    sheet: SheetArgument,
    rainfall: RainfallOption = None,
    rain_file: RainFileOption = None,
    return_period: ReturnPeriodOption = None,
    duration: DurationOption = None,
    rain_method: RainMethodOption = None,
    roof_run: Annotated[
        str | None,
        typer.Option("--roof-run", metavar="LENGTH", help="Eave to ridge on plan, where the sheet has none."),
    ] = None,
    roof_pitch: Annotated[
        str | None,
        typer.Option("--roof-pitch", metavar="PITCH", help="As in 6/12, where the sheet has none."),
    ] = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Check gutters, outlets and downpipes for rain.

    For each outlet: the roof that drains to it, the flow, how full that makes its
    gutter, hole and pipe, and what would mend it, all by the one method you name.
    Rainfall comes from you alone: given here, on the sheet or in the shop file.

    Sizes are checked against the local code by a person licensed to do so.
    """
    from gutterance.cli import work
    from gutterance.cli.inputs import open_sheet
    from gutterance.cli.rain import check_rain, rain_asked

    asked = rain_asked(rainfall, rain_file, return_period, duration, rain_method, roof_run, roof_pitch)
    raise typer.Exit(check_rain(work.standing_of(open_sheet(sheet), [sheet]), shop, asked, as_json=as_json))


@app.command(
    epilog="""\b
Examples:
  gutterance run job.txt --out job
  gutterance run notes/*.txt --out today
  gutterance run front.txt back.txt --one-walk --out job
  gutterance run late.txt --each --out today
  gutterance run - --out job < job.txt

Exit status 3 says that a piece or a pipe is on hold, or a question is open. Of
several jobs the gravest status is told: 1 a defect of ours, 2 a note that could not
be used, 3, 0; the others are done all the same."""
)
def run(
    notes: DayNotesArgument,
    out: OutFolder = None,
    each: Annotated[
        bool | None,
        typer.Option(
            "--each/--one-walk",
            help="Each note is a job in a folder of its own inside --out (so if several are given), "
            "or all are one walk-round, in that order.",
            show_default=False,
        ),
    ] = None,
    jobs: Annotated[
        int | None,
        typer.Option(
            "--jobs", metavar="N", min=1, help="How many jobs are done at once; else one for each core."
        ),
    ] = None,
    paper: PaperOption = None,
    only: OnlyOption = None,
    shop: ShopOption = None,
    prices: PricesOption = None,
    first_label: FirstLabelOption = None,
    rainfall: RainfallOption = None,
    rain_file: RainFileOption = None,
    return_period: ReturnPeriodOption = None,
    duration: DurationOption = None,
    rain_method: RainMethodOption = None,
    words: WordsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Read a note, check it and make the lists.

    This is `read`, `check` and `lists` in one. Prints the read-back, the findings, the
    cut list and the downpipe list; --out writes everything, the field sheet included.

    Several notes are a day's work: each is a job in a folder of its own inside --out,
    named for its note, several are done at once, and one that cannot be used never
    stops the rest. A table at the end tells of each, and is kept there as jobs.txt,
    jobs.csv and jobs.json. Notes that are parts of one walk-round need --one-walk.
    """
    from gutterance.cli import work
    from gutterance.cli.inputs import open_notes_to_read
    from gutterance.cli.rain import rain_asked
    from gutterance.cli.refusals import Refusal
    from gutterance.cli.trade_words import own_words_for

    asked = rain_asked(rainfall, rain_file, return_period, duration, rain_method)
    if each or (each is None and len(notes) > 1):
        from gutterance.cli.day_jobs import HowDone
        from gutterance.cli.day_work import run_day

        if first_label is not None:
            raise Refusal("--first-label is about one job's sheet of labels: run that job by itself with it")
        how = HowDone(shop, words, asked, paper, only, prices)
        raise typer.Exit(run_day(notes, out, how, jobs, as_json=as_json))
    if out is not None and work.holds_a_day(out):
        raise Refusal(
            f"{out} holds a day's jobs: say --each to put this one there in a folder of its own, or give "
            "--out another folder"
        )
    stands = work.standing_of(work.sheet_of(open_notes_to_read(notes), own_words_for(words, shop)), notes)
    raise typer.Exit(
        work.finish_lists(
            stands.sheet,
            stands.findings,
            out,
            shop,
            as_json=as_json,
            with_sheet=True,
            rain=asked,
            paper=paper,
            only=only,
            prices=prices,
            first_label=first_label,
        )
    )


@app.command(
    epilog="""\b
Examples:
  gutterance explain job.json
  gutterance explain job.json runs.front.length
  gutterance explain job.json downpipes.front-1
  gutterance explain job.json pieces.front-1.back"""
)
def explain(
    sheet: SheetArgument,
    path: Annotated[
        str | None, typer.Argument(metavar="[PATH]", help="Which value; leave it out to see all there are.")
    ] = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show a value's way back to the words of the note.

    PATH names a value of the field sheet (runs.front.length), a part of it
    (downpipes.front-1), or a number of the lists made from it (pieces.front-1.back).
    Its words are marked in their line, with what the value was before each correction,
    and each step of arithmetic on the way to a cut length.
    """
    from gutterance.cli import explaining, work
    from gutterance.cli.inputs import open_sheet
    from gutterance.cli.showing import show, show_json

    stands = work.standing_of(open_sheet(sheet), [sheet])
    opened = stands.sheet
    name = "standard input" if sheet == "-" else sheet
    lines = explaining.explain_sheet(opened, path) if path else None
    if path is not None and lines is not None:
        if as_json:
            show_json(
                {
                    at: reading.model_dump(mode="json", exclude_none=True)
                    for at, reading in opened.readings()
                    if at == path or at.startswith(f"{path}.")
                }
            )
        else:
            show("\n".join(lines))
        return
    made, _ = work.lists_of(opened, stands.findings, shop)
    paths = dict(explaining.paths_of(opened, made))
    if path is None:
        if as_json:
            show_json(paths)
        else:
            show("\n".join(f"{at}: {value}" for at, value in paths.items()))
        return
    lines = explaining.explain_lists(made, opened, path)
    if lines is None:
        raise explaining.no_such_path(path, list(paths), name)
    if as_json:
        show_json({path: lines})
    else:
        show("\n".join(lines))


@app.command(
    epilog="""\b
Examples:
  gutterance prices
  gutterance prices our-prices.csv --shop our-shop.toml
  gutterance prices - > prices.csv"""
)
def prices(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="The price list (CSV); - is standard output.")
    ] = "prices.csv",
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Write a price list to fill in, with every item of the shop.

    Item, unit, price: one row for each gutter, pipe, part and fastener the shop's rules
    can ask for. Into a list that is there already only what it lacks is added; what
    stands in it is never changed. Fill in what you charge for, then give the list with
    --prices, or keep it as prices.csv beside the shop's rules.

    What stays blank has no price, and the quantities say so; 0 is a price of nothing.
    An item may be priced by the pack (box of 250), pipe and gutter by ft or m, and a
    colour by itself (downpipe 2x3 brown). Currency and labour are in the shop's rules.
    """
    from gutterance.cli.price_lists import write_prices

    raise typer.Exit(write_prices(file, shop, as_json=as_json))


shop_app = typer.Typer(
    name="shop",
    rich_markup_mode=None,
    epilog="""\b
Examples:
  gutterance shop init shop.toml
  gutterance shop check shop.toml""",
)
app.add_typer(shop_app)


@shop_app.callback()
def shop() -> None:
    """Write or check the shop's own rules.

    Fits, corners, falls, hangers, downpipes, gutter shapes, hardware and spares are
    rules of the shop, kept in one file that the other commands take with --shop.
    """


@shop_app.command(
    epilog="""\b
Examples:
  gutterance shop init
  gutterance shop init our-shop.toml
  gutterance shop init - > our-shop.toml"""
)
def init(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="The file to write; - is standard output.")
    ] = "shop.toml",
) -> None:
    """Write a file of all rules, each with its default and what it means.

    Change what differs in your shop and delete the rest: a rule left out keeps its
    default. A file that is there already is never written over. Measure your own
    gutter once (top width, sole, depth) and your elbows, and write them in.
    """
    from gutterance.cli.shops import write_rules

    raise typer.Exit(write_rules(file))


@shop_app.command(
    name="check",
    epilog="""\b
Examples:
  gutterance shop check our-shop.toml
  gutterance shop check our-shop.toml --json

Exit status 2 says that the file cannot be used; each error names line, key and mend.""",
)
def check_shop(
    file: Annotated[str, typer.Argument(metavar="FILE", help="The shop's rules (TOML).")],
    as_json: JsonOption = False,
) -> None:
    """Check that a shop's file can be worked with.

    Every key must be known, every length have a unit and be one that can be.

    Says which rules differ from the trade's defaults, and which gutters and elbows
    nobody has measured yet.
    """
    from gutterance.cli.shops import check_rules

    raise typer.Exit(check_rules(file, as_json=as_json))


@app.command(
    epilog="""\b
Examples:
  gutterance schema
  gutterance schema lists > lists.schema.json"""
)
def schema(
    what: Annotated[
        Literal["sheet", "lists", "findings", "jobs"], typer.Argument(help="Which of the files.")
    ] = "sheet",
) -> None:
    """Print the JSON Schema of a file that gutterance writes.

    For programs that read or write field sheets, crew's lists, findings or the list of
    a day's jobs. The same text is kept in docs/schema/.
    """
    from gutterance.cli.schemas import schema_text
    from gutterance.cli.showing import put

    put(schema_text(what))


@app.command(
    epilog="""\b
Examples:
  gutterance demo
  gutterance demo --out somewhere

Exit status 3 is what it should end with: the example has a question open, and what
rests on it is on hold."""
)
def demo(
    out: Annotated[str, typer.Option("--out", metavar="DIR", help="The folder for the lists.")] = "demo-out",
) -> None:
    """Do the whole job on an example note.

    Shows the note, the read-back, the findings, the cut list and the downpipe list, as
    `run` would, and writes all lists to a folder, the quantities with invented prices.
    """
    from gutterance.cli import work
    from gutterance.cli.demonstration import example_note, example_prices
    from gutterance.cli.inputs import open_note_to_read
    from gutterance.cli.showing import show

    note = open_note_to_read(str(example_note()))
    show(
        f"THE NOTE ({note.name.rsplit('/', 1)[-1]})",
        "\n".join(f"  {line}" for line in note.lines_text()),
        "\n",
    )
    stands = work.standing_of(work.sheet_of(note), [])
    prices = str(example_prices())
    raise typer.Exit(
        work.finish_lists(
            stands.sheet, stands.findings, out, None, as_json=False, with_sheet=True, prices=prices
        )
    )


@app.command(
    epilog="""\b
Examples:
  gutterance length fifty eight foot six and a quarter
  gutterance length "58'-6¼\\"" --json
  gutterance length 24 --field wall-to-fascia
  gutterance length three two hundred --field run --metric
  gutterance length - --json < phrases.txt

With --json each phrase gives one line: a list of {"text", "start", "end", "inches",
"shown", "doubts"}, where start and end count characters of the phrase and inches is
exact, as in "2809/4". With - there is one such line for each line of standard input,
in the same order, empty lists included."""
)
def length(
    text: Annotated[list[str], typer.Argument(metavar="TEXT", help="The phrase; - reads one phrase a line.")],
    field: Annotated[
        Literal["run", "height", "wall-to-fascia", "offset", "none"],
        typer.Option(help="What a number without a unit answers."),
    ] = "none",
    metric: Annotated[
        bool, typer.Option("--metric", help="Numbers without a unit are millimetres over 100, else metres.")
    ] = False,
    as_json: JsonOption = False,
) -> None:
    """Read the lengths in a phrase: the tape reader alone.

    Each is shown as feet and inches, in exact inches and in millimetres, with the words
    it came from and what is doubtful about it. Words given one by one are one phrase.
    """
    from gutterance.cli.lengths import phrase_of, phrases_from_standard_input, write_lengths
    from gutterance.cli.showing import talk

    if text == ["-"]:
        write_lengths(phrases_from_standard_input(), field, metric=metric, as_json=as_json)
    elif not write_lengths([phrase := phrase_of(text)], field, metric=metric, as_json=as_json):
        talk(f"no length was found in {phrase!r}")


@app.command(
    epilog="""\b
Examples:
  gutterance words
  gutterance words outlet
  gutterance words snout --words words.toml"""
)
def words(
    text: Annotated[
        str | None,
        typer.Argument(metavar="[TEXT]", help="Show what has this in it; without it, all."),
    ] = None,
    words: WordsOption = None,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show the words of the trade that the reader knows.

    By what they mean, with the word that the sheet writes before those that are also
    read. A shop adds its own in a file, words.toml beside its rules; how, is in
    docs/own-words.md. Numbers and units are not among them: `gutterance length` reads
    those.
    """
    from gutterance.cli.showing import show, show_json, talk
    from gutterance.cli.trade_words import known_words, own_words_for, words_text

    known = known_words(text, own_words_for(words, shop))
    if as_json:
        show_json(known)
    elif known:
        show(words_text(known))
    else:
        talk(f"the reader knows no word with {text!r} in it; a shop can add it: docs/own-words.md")


@app.command(
    epilog="""\b
Examples:
  gutterance coil --outer 30 --inner 16 --thickness 0.032
  gutterance coil --outer "30 1/4 in" --inner 16 --thickness .027
  gutterance coil --weight "588 lb" --width "11 7/8" --thickness 0.032
  gutterance coil --weight "267 kg" --width 300 --thickness 0.7 --metric"""
)
def coil(
    outer: Annotated[
        str | None, typer.Option("--outer", metavar="LENGTH", help="Across the coil, over the metal.")
    ] = None,
    inner: Annotated[
        str | None, typer.Option("--inner", metavar="LENGTH", help="Across the hole, metal to metal.")
    ] = None,
    thickness: Annotated[
        str | None, typer.Option("--thickness", metavar="LENGTH", help="Of the metal, paint included.")
    ] = None,
    weight: Annotated[
        str | None,
        typer.Option("--weight", metavar="WEIGHT", help="Of the metal alone, as in 588 lb or 267 kg."),
    ] = None,
    width: Annotated[str | None, typer.Option("--width", metavar="LENGTH", help="Of the coil.")] = None,
    metal: Annotated[
        str | None, typer.Option("--metal", metavar="NAME", help="aluminium unless given; steel, copper ...")
    ] = None,
    metric: Annotated[
        bool, typer.Option("--metric", help="Numbers without a unit are millimetres, else inches.")
    ] = False,
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Work out how much is left on a coil.

    From its two diameters and the metal's thickness, or from its weight, width and
    thickness; from both, if both are given, to hold one against the other. Measures are
    in tape language. Says what to count on, and what to write in the shop file, so
    that the lists know which coil a piece can be run from.
    """
    from gutterance.cli.coils import Asked, tell_coil

    tell_coil(Asked(outer, inner, thickness, weight, width, metal, metric), shop, as_json=as_json)


@app.command(
    epilog="""\b
Examples:
  gutterance serve
  gutterance serve --lan --https
  gutterance serve --folder /srv/gutters --shop shop.toml
  gutterance serve --database postgresql://office@db/gutters

Other machines reach it with --lan alone, and each device is paired first, once, by
a code that the page /devices shows. Plain http can be read by whoever shares the
network: docs/pages.md says what --https adds."""
)
def serve(
    folder: Annotated[
        str | None,
        typer.Option(
            "--folder", metavar="DIR", help="The office's folder; else gutterance-office in your home."
        ),
    ] = None,
    database: Annotated[
        str | None,
        typer.Option("--database", metavar="URL", help="A PostgreSQL in place of the folder's own database."),
    ] = None,
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="0 takes a free one.")] = 8417,
    lan: Annotated[
        bool, typer.Option("--lan", help="To be reached from other machines; each is paired first.")
    ] = False,
    name: Annotated[
        list[str] | None,
        typer.Option("--name", metavar="HOST", help="A name that others call it by. May be repeated."),
    ] = None,
    https: Annotated[
        bool, typer.Option("--https", help="By https, with a certificate made here unless one is given.")
    ] = False,
    certificate: Annotated[
        str | None, typer.Option("--certificate", metavar="FILE", help="A certificate, in PEM, with --key.")
    ] = None,
    key: Annotated[str | None, typer.Option("--key", metavar="FILE", help="Its key, in PEM.")] = None,
    shop: ShopOption = None,
    words: WordsOption = None,
) -> None:
    """Start the office's pages: capture on the phone, review, lists.

    Jobs are kept in a database in the office's folder, which is named at the start. The
    pages are for this machine alone unless --lan is given; stop with Ctrl-C.
    """
    from gutterance.cli.serving import reached_by, run_server

    reached = reached_by(port, name or [], certificate, key, lan=lan, https=https)
    run_server(folder, database, reached, shop, words)


@app.command(
    epilog="""\b
Examples:
  gutterance backup
  gutterance backup --out /media/stick/jobs.sqlite3
  gutterance backup --database postgresql://office@db/gutters"""
)
def backup(
    folder: Annotated[
        str | None,
        typer.Option(
            "--folder", metavar="DIR", help="The office's folder; else gutterance-office in your home."
        ),
    ] = None,
    database: Annotated[
        str | None, typer.Option("--database", metavar="URL", help="As for `gutterance serve`.")
    ] = None,
    out: Annotated[
        str | None,
        typer.Option("--out", metavar="FILE", help="Where to; else the folder's copies/, with the time."),
    ] = None,
) -> None:
    """Copy the office's jobs to one file, while the server runs or not.

    The copy is read back before it takes its name. The server makes one a day by itself;
    this one is for another disk. A PostgreSQL's jobs become such a file too.
    """
    from gutterance.cli.serving import back_up_office

    back_up_office(folder, database, out)


@app.command(
    epilog="""\b
Examples:
  gutterance score corpus
  gutterance score corpus --details
  gutterance score corpus --held --record

Exit status 3 says that a wrong value was shown as certain: the one thing that must not be."""
)
def score(
    corpus: Annotated[
        str, typer.Argument(metavar="CORPUS", help="A folder of notes with their gold sheets.")
    ],
    details: Annotated[
        bool, typer.Option("--details", help="List each value that was not right, worst first.")
    ] = False,
    held: Annotated[
        bool,
        typer.Option("--held", help="Score the notes set aside in held/ too; only their totals are shown."),
    ] = False,
    record: Annotated[
        bool, typer.Option("--record", help="Add this score to scores.json in the corpus folder.")
    ] = False,
    as_json: JsonOption = False,
) -> None:
    """Score the reader on a corpus of notes with gold sheets.

    Each value of the gold is right, asked, missed, or wrong while shown as certain; a
    certain value that gold does not have is wrong too. Shown by voice and by field, with
    the change against the last recorded score. How gold is written: corpus/README.md.
    """
    from gutterance.cli.scoring import run_score

    raise typer.Exit(run_score(corpus, details=details, held=held, record=record, as_json=as_json))
