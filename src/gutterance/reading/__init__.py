"""From a note's lines to a field sheet: pipeline, titles, units, the walk, and an account of every number."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.notes import Note
    from gutterance.reading.own_words import OwnWords
    from gutterance.reading.prose.choosing import HowSentences
    from gutterance.reading.shorthand.finding import Found
    from gutterance.reading.trained.heard import Heard
    from gutterance.sheet.models import Sheet

__all__ = ["read_note"]


def read_note(given: Note | Sequence[str], *, own: OwnWords | None = None) -> Sheet:
    """Read a note into a field sheet: a note as `notes` opens it, or plain lines of text.

    Never raises on any text. Every numeral of the note is in the sheet or in its `unread`. Times, files and
    how surely words were heard reach the sheet where the note has them. `own` are the shop's own words.
    """
    from gutterance.reading.trained.agreeing import hold_against

    sheet, heard = read_by_rules(given, own=own)
    hold_against(sheet, heard)
    return sheet


def read_by_rules(given: Note | Sequence[str], *, own: OwnWords | None = None) -> tuple[Sheet, Heard]:
    """Read a note by the rules alone: their sheet, and the note as the trained reader sees it."""
    from gutterance.reading.labels import with_own_labels
    from gutterance.reading.shorthand.choosing import read_both_ways
    from gutterance.reading.trained.heard import Heard

    heard = Heard()
    with with_own_labels(own.labels if own is not None else ()):
        sheet = read_both_ways(given, lambda rows: _by_sentences_or_words(given, own, rows, heard))
    return sheet, heard


def _by_sentences_or_words(
    given: Note | Sequence[str], own: OwnWords | None, rows: Found | None, heard: Heard
) -> Sheet:
    """The sheet of a note by its sentences, or by clipped words where these explain more of it."""
    from gutterance.reading.prose.choosing import read_by_sentences

    if rows is not None:
        return _read(given, own, rows, "words", heard)[0]
    return read_by_sentences(lambda how: _read(given, own, None, how, heard))


def _read(
    given: Note | Sequence[str],
    own: OwnWords | None,
    rows: Found | None,
    how: HowSentences,
    symbols: Heard,
) -> tuple[Sheet, bool]:
    """Read a note: its shorthand rows by themselves where `rows` has them, its long sentences as `how` says.

    With the sheet, whether the note is told in sentences. `symbols` is given the note's items.
    """
    from gutterance.notes import Note
    from gutterance.reading.barred_rows import drop_bars
    from gutterance.reading.caution import look_again
    from gutterance.reading.chat_lines import chat_lines
    from gutterance.reading.coded_runs import write_out_codes
    from gutterance.reading.counted_shorthand import spell_counts
    from gutterance.reading.cut_short import spell_out
    from gutterance.reading.discourse import Walk
    from gutterance.reading.end_pairs import fold_end_pairs
    from gutterance.reading.filled_leaders import without_leaders
    from gutterance.reading.finish import to_sheet
    from gutterance.reading.form_page import form_page
    from gutterance.reading.hearing import look_at_hearing, spoken_by_several
    from gutterance.reading.job_units import judge_units
    from gutterance.reading.kept_pipes import leave_out_kept_pipes
    from gutterance.reading.keys import apply_numbers, find_entries
    from gutterance.reading.ledger import list_unread
    from gutterance.reading.lettered.groups import names_told_outside
    from gutterance.reading.lettered.hearing import hear_lettered
    from gutterance.reading.lettered.naming import find_naming
    from gutterance.reading.lettered.ring import Ring
    from gutterance.reading.line_openings import name_lettered_lines, name_quarters
    from gutterance.reading.named_behind import lines_named_behind
    from gutterance.reading.numbered_parts import numbers_runs_of_parts
    from gutterance.reading.outlet_lists import listed_pipe_lines
    from gutterance.reading.own_names import name_own_parts
    from gutterance.reading.own_words import tell_own_words
    from gutterance.reading.paper_finding import find_paper, finish_paper, hear_paper
    from gutterance.reading.pieces_said import tells_in_pieces
    from gutterance.reading.pipeline import pipeline
    from gutterance.reading.pipes_first import give_pipes_to_their_run, pipes_told_first
    from gutterance.reading.points.hearing import begin_round, doubt_unsaid_way, hear_points
    from gutterance.reading.points.naming import find_points
    from gutterance.reading.prose.hearing import doubt_not_followed, hear_prose
    from gutterance.reading.prose.sentences import prose_lines
    from gutterance.reading.prose.titles import title_in_sentences, without_greetings
    from gutterance.reading.prose.topic import Topic
    from gutterance.reading.readable_lines import ReadableLines, put_words_back, with_whole_signs
    from gutterance.reading.row_names import call_by_row, rows_with_names
    from gutterance.reading.several_houses import find_houses, name_houses
    from gutterance.reading.shades import guess_colour
    from gutterance.reading.shorthand.finding import style_of
    from gutterance.reading.shorthand.hearing import hear_row, items_of_rows, name_job, take_rows
    from gutterance.reading.sides_named import sides_named_alone
    from gutterance.reading.speakers import drop_speaker_labels
    from gutterance.reading.speech import hear
    from gutterance.reading.stamped_lines import stamped_lines
    from gutterance.reading.titles import drop_timestamps, find_title
    from gutterance.reading.trained.heard import carried
    from gutterance.reading.weak_ground import doubt_weak_ground
    from gutterance.reading.written_out import write_out

    heard = given if isinstance(given, Note) else None
    lines = with_whole_signs(given.lines_text() if isinstance(given, Note) else given)
    timed = heard is not None and any(line.words for line in heard.lines)
    chat = None if timed else chat_lines(lines)
    told = without_leaders(lines if chat is None else chat.lines)
    reader = pipeline(own)
    coded = write_out_codes(told, reader) if rows is None and not timed else None
    told = told if coded is None else coded.lines
    stamped = None if timed or chat is not None else stamped_lines(told)
    page = None if timed or stamped is not None or chat is not None else form_page(told)
    rewritten = stamped or page
    readable = ReadableLines(told if rewritten is None else rewritten.lines)
    walk = Walk()
    entries = find_entries(readable.lines, reader)
    spelled = write_out(readable.lines, entries, reader) if rows is None else None
    texts = spelled.lines if spelled is not None else readable.lines
    points = find_points(texts)
    naming = points or find_naming(texts)
    by_row = rows_with_names(texts, reader.place_words)
    if naming is not None and by_row and not naming.letters:
        naming = None
    if naming is not None and numbers_runs_of_parts(readable.lines, reader.numbered_parts):
        naming = None
    if rows is not None:
        naming = None
    whole = note = reader.lines(texts, naming)
    if rows is not None:
        note = take_rows(whole, rows)
    if naming is not None:
        walk.ring = Ring(naming, naming.order, naming.clockwise)
    if points is not None and walk.ring is not None:
        begin_round(walk.ring, points)
    paper = find_paper(note, walk, page)
    if paper.tells_runs and not names_told_outside(note, paper.lines):
        walk.ring = None  # the names in a table or a form stand where its labels say
    said = [line for line in note if line.number not in paper.lines]
    apply_numbers(entries, [line for line in note if line.number not in paper.filled_in], walk)
    drop_bars(said)
    spell_out(said)
    if by_row:
        call_by_row(said)
    for line in said:
        fold_end_pairs(line)
    spell_counts(said)
    before = [len(line.items) for line in said]
    walk.dialogue = (
        drop_speaker_labels(said, walk)
        or (heard is not None and spoken_by_several(heard))
        or (chat is not None and chat.by_several)
    )
    walk.labelled = before != [len(line.items) for line in said]
    drop_timestamps(said, walk)
    spoken = walk.dialogue or timed or walk.ring is not None
    letter, topic = frozenset[int]() if spoken else prose_lines(said), Topic(by_halves=how == "half")
    prose = letter if how != "words" else frozenset[int]()
    if walk.title is None and letter:
        title_in_sentences(said, walk)
    if walk.title is None:
        find_title(without_greetings(note) if letter else note, walk)
    judge_units(note, walk)
    walk.houses = find_houses(texts)
    name_houses(said, walk.houses, walk)
    walk.in_pieces = tells_in_pieces(texts)
    name_own_parts(said)
    walk.named_sides = sides_named_alone(said)
    if walk.ring is None:
        walk.named_behind = lines_named_behind(said)
    walk.pipe_lines = listed_pipe_lines(said) | pipes_told_first(said, walk)
    if walk.ring is None:
        name_lettered_lines(said)
    name_quarters(said)
    style = style_of(readable.lines) if rows is not None else None
    if rows is not None:
        name_job(whole, rows, walk)
        walk.metric = walk.metric or rows.context.metric
    for line in whole:
        if rows is not None and style is not None and hear_row(line, rows, walk, style):
            continue
        if hear_paper(line, paper):
            continue
        if line.number in prose:
            hear_prose(line, walk, topic)
        elif walk.ring is not None and points is not None:
            hear_points(line, walk, walk.ring, points)
        elif walk.ring is not None:
            hear_lettered(line, walk, walk.ring)
        else:
            hear(line, walk)
    finish_paper(paper)
    guess_colour(note, walk)
    give_pipes_to_their_run(walk)
    sheet = to_sheet(walk, list(lines))
    leave_out_kept_pipes(readable.lines, sheet)
    if rows is not None and style is not None:
        items_of_rows(whole, rows, style)
    note = whole
    list_unread(note, walk, sheet)
    look_again(note, walk, sheet)
    doubt_not_followed(topic, sheet)
    if points is not None:
        doubt_unsaid_way(points, sheet)
    doubt_weak_ground([line for line in note if line.number not in prose], walk, sheet)
    if own is not None:
        tell_own_words(note, sheet)
    words = carried(walk.symbols, lines)
    for one in (sheet, words):
        if spelled is not None:
            spelled.put_back(one)
        readable.put_back(one)
        if rewritten is not None:
            rewritten.put_back(one)
        if coded is not None:
            coded.put_back(one)
        if told is not lines:
            put_words_back(lines, one)
    if rows is None:
        symbols.offer(walk.symbols, words, metric=walk.metric)
    if chat is not None:
        chat.set_aside(sheet)
    if heard is not None:
        look_at_hearing(heard, sheet)
    return sheet, bool(letter)
