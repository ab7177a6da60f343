"""The stages that several commands share, and what they print."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import show, show_json, talk, tell_files, write_whole
from gutterance.cli.statuses import ExitStatus

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking import Standing
    from gutterance.checking.findings import Finding
    from gutterance.drainage.asked import RainAsked
    from gutterance.lists.models import Lists
    from gutterance.notes import Note
    from gutterance.reading.own_words import OwnWords
    from gutterance.render.paper_names import PaperSize
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop

DAY_JSON = "jobs.json"
"""In a folder of a day's jobs, the file that lists them."""


def sheet_of(note: Note, own: OwnWords | None = None) -> Sheet:
    """Read a note, with a shop's own words. Raises Refusal where nothing of a gutter job is found in it."""
    from gutterance.reading import read_note

    for remark in note.remarks:
        talk(f"note: {remark}")
    for damage in note.damage:
        talk(f"damaged: {damage}")
    if len(files := note.files()) > 1:
        spans = (f"{file} is {_lines(first, last)}" for file, first, last in files)
        talk(f"note: in what follows, {', '.join(spans)}")
    sheet = read_note(note, own=own)
    if not sheet.runs and next(iter(sheet.readings()), None) is None:
        raise Refusal(
            f"no run was found in {note.name}: name each run and give its length in English, one a line, "
            "as in 'Front 42-6, outside corner both ends'"
        )
    return sheet


def _lines(first: int, last: int) -> str:
    return f"line {first}" if first == last else f"lines {first} to {last}"


def standing_of(sheet: Sheet, paths: Sequence[str]) -> Standing:
    """The sheet with the amendments kept beside those files on top, what follows worked out, and checked."""
    from gutterance.checking import as_it_stands
    from gutterance.cli.amendment_files import amendments_of

    return as_it_stands(sheet, amendments_of(paths))


def shop_of(shop_file: str | None) -> Shop:
    """The shop's rules, the trade's defaults where no file is given."""
    from gutterance.shop import load_shop

    return load_shop(Path(shop_file) if shop_file else None)


def lists_of(
    sheet: Sheet, findings: Sequence[Finding], shop_file: str | None, rain: RainAsked | None = None
) -> tuple[Lists, Shop]:
    """Lay a sheet out by the shop's rules, and check it for rain where rainfall is given."""
    from gutterance.lists import make_lists

    shop = shop_of(shop_file)
    return make_lists(sheet, list(findings), shop, rain), shop


def sheet_status(sheet: Sheet) -> ExitStatus:
    """Whether anything on the sheet waits for an answer."""
    # a length that nobody measured waits to be confirmed, though it was worked out
    open_values = any(
        reading.status in ("doubtful", "missing")
        or (reading.status == "inferred" and path.endswith(".length"))
        for path, reading in sheet.readings()
    )
    return ExitStatus.ON_HOLD if open_values or sheet.unread or sheet.damage else ExitStatus.DONE


def findings_status(findings: Sequence[Finding]) -> ExitStatus:
    """Whether any finding waits for an answer."""
    from gutterance.checking.findings import HOLDING

    return ExitStatus.ON_HOLD if any(found.kind in HOLDING for found in findings) else ExitStatus.DONE


def lists_status(lists: Lists, findings: Sequence[Finding]) -> ExitStatus:
    """Whether any piece, pipe or finding waits for an answer."""
    return ExitStatus.ON_HOLD if lists.on_hold else findings_status([*findings, *lists.findings])


def save_sheet(sheet: Sheet, path: Path) -> None:
    """Write a field sheet. Raises Refusal rather than write over a file that is no field sheet."""
    if path.is_dir():
        raise Refusal(f"{path} is a folder: give --out a file, as in {path / 'sheet.json'}")
    if path.exists() and b'"gutterance-sheet-' not in path.read_bytes()[:4096]:
        raise Refusal(f"{path} is there already and is no field sheet: give --out another name")
    write_whole(path, sheet_json(sheet))


def save_explained(sheet: Sheet, name: str, path: Path) -> None:
    """Write the page that shows what was read. Raises Refusal rather than write over anything else."""
    from gutterance.render.explainpage import MADE_BY, explain_page

    if path.is_dir():
        raise Refusal(f"{path} is a folder: give --explain a file, as in {path / 'job.html'}")
    if path.exists() and MADE_BY.encode() not in path.read_bytes()[:4096]:
        raise Refusal(f"{path} is there already and is no such page: give --explain another name")
    write_whole(path, explain_page(sheet, name))


def sheet_json(sheet: Sheet) -> str:
    """A field sheet as its file holds it."""
    return sheet.model_dump_json(by_alias=True, exclude_none=True, indent=1) + "\n"


def lists_text(lists: Lists, shop: Shop, *, with_rain: bool) -> list[str]:
    """What the crew asks for first: the cut list and the downpipe list; the drainage check `with_rain`."""
    from gutterance.render.text import cut_list, downpipe_list, drainage_check

    rain = [drainage_check(lists, shop)] if with_rain else []
    return [cut_list(lists, shop), downpipe_list(lists, shop), *rain]


def finish_lists(
    sheet: Sheet, findings: Sequence[Finding], out: str | None, shop_file: str | None, *, as_json: bool,
    with_sheet: bool, rain: RainAsked | None = None, paper: str | None = None, only: str | None = None,
    prices: str | None = None, first_label: int | None = None,
) -> ExitStatus:  # fmt: skip
    """Make, write and print the lists; before them the read-back and the findings where `with_sheet`."""
    from gutterance.cli.price_lists import prices_for
    from gutterance.render.files import write_lists
    from gutterance.render.text import findings_text, read_back

    wanted = papers_wanted(only)
    folder = Path(out) if out is not None else None
    if folder is None and any(one is not None for one in (only, paper, prices, first_label)):
        raise Refusal(
            "--only, --paper, --prices and --first-label are about files: give --out a folder for them"
        )
    if folder is not None and folder.exists() and not folder.is_dir():
        raise Refusal(f"{out} is a file: give --out a folder for the lists")
    lists, shop = lists_of(sheet, findings, shop_file, rain)
    # what only the layout can tell (a fall too great, a pipe the shop file lacks) is asked with the rest
    every = [*findings, *lists.findings]
    written = []
    if folder is not None:
        size = paper_size(paper, sheet)
        label = label_to_begin_with(first_label, shop, size)
        priced = prices_for(prices, shop_file) if {"csv", "xlsx"} & set(wanted) else None
        written = write_lists(lists, sheet, list(findings), folder, shop, size, wanted, priced, label)
    if as_json:
        data: dict[str, Any] = lists.model_dump(mode="json", by_alias=True, exclude_none=True)
        if with_sheet:
            data = {
                "sheet": sheet.model_dump(mode="json", by_alias=True, exclude_none=True),
                "findings": findings_data(every),
                "lists": data,
                "files": [str(path) for path in written],
            }
        show_json(data)
    else:
        before = [read_back(sheet)] if with_sheet else []
        if with_sheet or lists.findings:
            before.append(findings_text(every if with_sheet else lists.findings))
        show(
            *before, *lists_text(lists, shop, with_rain=rain is not None or lists.drainage.method is not None)
        )
    if folder is not None:
        tell_files(written, folder)
        if any(path.suffix == ".pdf" for path in written):
            from gutterance.render.sheet_code import sheet_code

            talk(f"these papers bear the code {sheet_code(sheet, lists)}: a print with another code is old")
    return lists_status(lists, findings)


def holds_a_day(out: str) -> bool:
    """Whether a folder is that of a day's jobs, so that no single job's lists belong right in it."""
    return (Path(out) / DAY_JSON).exists()


def papers_wanted(only: str | None) -> tuple[str, ...]:
    """The papers that `--only` names, all where it names none. Raises Refusal for a name there is not."""
    from gutterance.render.paper_names import PAPERS

    if only is None:
        return PAPERS
    names = [name.strip().lower() for name in only.split(",") if name.strip()]
    unknown = [name for name in names if name not in PAPERS]
    if unknown or not names:
        what = f"knows no {', '.join(unknown)}" if unknown else "names nothing"
        raise Refusal(f"--only {what}: name one or more of {', '.join(PAPERS)}, with commas between")
    return tuple(name for name in PAPERS if name in names)


def paper_size(paper: str | None, sheet: Sheet) -> PaperSize:
    """The paper asked for; else A4 for a metric job, letter for another. Raises Refusal for another size."""
    if paper is None:
        return "a4" if sheet.defaults.units == "metric" else "letter"
    size = paper.strip().lower()
    if size == "a4":
        return "a4"
    if size == "letter":
        return "letter"
    raise Refusal(f"--paper {paper}: say letter or a4")


def label_to_begin_with(asked: int | None, shop: Shop, size: PaperSize) -> int:
    """The label of its sheet to begin with, the first unless asked. Raises Refusal for one there is not."""
    grid = shop.labels[size]
    if asked is not None and not 1 <= asked <= grid.on_a_page:
        raise Refusal(
            f"--first-label {asked}: the shop's {size} sheet has labels 1 to {grid.on_a_page}, counted along "
            "the rows from the top left"
        )
    return asked or 1


def findings_data(findings: Sequence[Finding]) -> list[dict[str, Any]]:
    """Findings as plain data."""
    return [found.model_dump(mode="json", exclude_none=True) for found in findings]
