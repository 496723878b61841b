"""What texts give practice in, as a page, and as rows for programs. Numbers without a mark: no research names how many words a lesson needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from decodecheck.errors import count, cut, cut_path
from decodecheck.insight.coverage import NAME, Coverage, Held
from decodecheck.insight.in_order import InOrder, Met, OfStep, in_order, since
from decodecheck.judging.verdict import BLOCKED, DECODABLE, TRICKY, UNSURE
from decodecheck.printing import as_json
from decodecheck.progression.resolve import spans
from decodecheck.reports.page import Block, Entry, Heading, Page, Paragraph, Table
from decodecheck.reports.rows import as_csv
from decodecheck.reports.text_names import text_names

SCHEMA = 1
NAMED = 6
"""Words that are named of a lesson."""
FEW = 3
"""Words that are named where there is little room."""
MOST = 20
"""Words and lessons that are named in a line."""
HEAD = ("Step", "Lesson", "Words", "Times", "Start", "Middle", "End", "Parts", "Likely", "Which")
HOW = (
    "Words: different decodable words that hold it; tricky words and names are not among them. Times: how often it occurs in these, at the start, in "
    "the middle and at the end of the word. Parts: of {parts} parts of the text, so many hold it. Likely: so many words for young children that "
    "can be decoded at the step hold it."
)
STRUCTURES = "The structure of a whole word has no place in it."
NO_MARK = "There is no agreed number of words that a lesson needs."


def page(covered: Sequence[Coverage]) -> Page:
    """One text at length; several in tables, in the order in which they are read."""
    if len(covered) == 1:
        (one,) = covered
        subtitle = f"{one.order}, step {one.step}; {count(one.running, 'word')}"
        return Page(f"Coverage: {cut_path(one.path)}", subtitle, tuple(_one(one)), "landscape")
    orders = ", ".join(dict.fromkeys(one.order for one in covered))
    return Page("Coverage", f"{count(len(covered), 'text')}; {orders}", tuple(_several(covered)), "landscape")


# -- one text ---------------------------------------------------------------------------------------------------------------


def _one(one: Coverage) -> Iterator[Block]:
    yield from _figures(one)
    yield Heading(f"New at step {one.step}")
    new = [held for held in one.lessons if held.step == one.step and held.words]
    if new:
        yield _table(new)
    if one.lacking:
        yield Entry("Not met", ", ".join(one.lacking))
    elif not one.new and not one.tricky_new:
        yield Paragraph("Nothing that words hold is new at this step.")
    before = [held for held in one.lessons if held.step < one.step and held.words]
    if before or one.unmet_before:
        yield Heading("Taught before")
    if before:
        yield _table(before)
    if one.unmet_before:
        yield Entry("Not met", ", ".join(f"{held.name} (likely {held.offered})" for held in one.unmet_before))
    structures = any(held.whole for held in one.lessons)
    yield Paragraph(" ".join((HOW.format(parts=one.parts), *([STRUCTURES] if structures else ()), NO_MARK)))


def _figures(one: Coverage) -> Iterator[Block]:
    yield Entry("Words", "; ".join(_kinds(one)))
    for name, words in (
        ("Not yet decodable", one.blocked),
        ("To check by eye", one.unsure),
        ("Tricky words", one.tricky),
    ):
        if words:
            yield Entry(name, _list([f"{word} {times}" for word, times in words]))
    if one.sentences:
        yield Entry("Sentences", _sentences(one))
    if one.apart:
        total = sum(times for _, times in one.apart)
        named = _list([f"{grapheme} {times}" for grapheme, times in one.apart])
        yield Entry("Under no lesson", f"{total} of {count(one.graphemes, 'grapheme')}: {named}")


def _kinds(one: Coverage) -> Iterator[str]:
    names = {
        DECODABLE: "decodable",
        TRICKY: "tricky",
        NAME: "names or allowed",
        BLOCKED: "not yet decodable",
        UNSURE: "to check by eye",
    }
    for kind, name in names.items():
        if one.statuses[kind]:
            yield f"{one.statuses[kind]} {name} ({_share(one.statuses[kind], one.running)})"


def _share(some: int, whole: int) -> str:
    return f"{100 * some / whole:.0f}%"


def _sentences(one: Coverage) -> str:
    assert one.sentences is not None
    lengths = one.sentences.lengths
    where = one.sentences.longest_at.words()
    return (
        f"{len(lengths)}, with {one.sentences.mean:.1f} words on average; the longest has {max(lengths)}"
        f"{f' ({where})' if where else ''}"
    )


def _table(lessons: Sequence[Held]) -> Table:
    rows = tuple(
        (
            str(held.step),
            held.name,
            str(len(held.words)),
            str(held.times),
            *(("", "", "") if held.whole else map(str, (held.start, held.middle, held.end))),
            str(held.parts),
            str(held.offered),
            _list(held.words, NAMED),
        )
        for held in lessons
    )
    return Table(HEAD, rows, wide=(9,))


def _list(words: Sequence[str], most: int = MOST) -> str:
    more = len(words) - most
    return ", ".join(map(cut, words[:most])) + (f" and {more} more" if more > 0 else "")


# -- several ----------------------------------------------------------------------------------------------------------------


def _several(covered: Sequence[Coverage]) -> Iterator[Block]:
    names = text_names(one.path for one in covered)
    groups = in_order(covered)
    several = len(groups) > 1
    number = {path: str(at) for group in groups for at, path in enumerate(group.texts, 1)}
    yield Table(
        ("", "Text", "Step", "Words", "In a sentence", "Tricky", "Not yet decodable"),
        tuple((number[one.path], *_row(one, names[one.path])) for one in covered),
        wide=(1, 5, 6),
    )
    yield Heading("What is new at the step of each text")
    yield Table(
        ("", "Text", "Step", "Met, and how many words hold it", "Not met"),
        tuple((number[one.path], *_new(one, names[one.path])) for one in covered),
        wide=(1, 3, 4),
    )
    for group in groups:
        more = f" ({group.order})" if several else ""
        yield Heading(f"Texts since each lesson was last met{more}")
        yield Table(
            ("Step", "Lesson", "Met in", "Of texts", "Texts since", "Longest without"),
            tuple(map(_met, group.met)),
            wide=(2,),
        )
        yield Heading(f"What the texts of each step lack{more}")
        yield Table(
            ("Step", "Texts", "New, and not met", "Taught before, and not met"),
            tuple(map(_of_step, group.steps)),
            wide=(2, 3),
        )
    yield Paragraph(
        "Tricky: their share of the words, and those that occur most. In a sentence: so many words, on average. Met in: the texts by their numbers, in the order in which they are read. Of texts: so many are read from "
        f"the lesson's step on. Longest without: so many of these in a row do not hold it. {NO_MARK}"
    )


def _row(one: Coverage, name: str) -> tuple[str, ...]:
    return (
        name,
        str(one.step),
        str(one.running),
        f"{one.sentences.mean:.1f}" if one.sentences else "",
        _tricky(one),
        _list([word for word, _ in one.blocked], NAMED) or "none",
    )


def _new(one: Coverage, name: str) -> tuple[str, ...]:
    met = _list([f"{held.name}: {len(held.words)}" for held in one.new if held.words])
    return name, str(one.step), met, ", ".join(one.lacking)


def _tricky(one: Coverage) -> str:
    """Which share of the words is tricky, with those that occur most."""
    if not one.running or not one.tricky:
        return "none"
    return f"{_share(one.statuses[TRICKY], one.running)}: {_list([word for word, _ in one.tricky], FEW)}"


def _met(met: Met) -> tuple[str, ...]:
    since = "" if met.since is None else str(met.since)
    return (
        str(met.step),
        met.name,
        spans([*met.holding]) if met.holding else "none",
        str(met.texts),
        since,
        str(met.longest),
    )


def _of_step(of_step: OfStep) -> tuple[str, ...]:
    return str(of_step.step), str(len(of_step.texts)), ", ".join(of_step.lacking), ", ".join(of_step.unmet_before)


# -- for programs -----------------------------------------------------------------------------------------------------------


def as_document(covered: Sequence[Coverage]) -> str:
    """The texts as JSON, schema 1 (`coverage-1.schema.json` beside this file)."""
    files = [_record(one, since(covered, at)) for at, one in enumerate(covered)]
    return (
        as_json({"schema": SCHEMA, "files": files, "in_order": [_in_order(group) for group in in_order(covered)]})
        + "\n"
    )


def _record(one: Coverage, ago: dict[str, int | None]) -> dict[str, Any]:
    lengths = one.sentences.lengths if one.sentences else ()
    return {
        "path": one.path,
        "order": one.order,
        "step": one.step,
        "words": one.running,
        "decodable": one.statuses[DECODABLE],
        "tricky": one.statuses[TRICKY],
        "names": one.statuses[NAME],
        "not_yet_decodable": one.statuses[BLOCKED],
        "to_check_by_eye": one.statuses[UNSURE],
        "parts": one.parts,
        "lessons": [{**_lesson(held), "texts_since": ago[held.name]} for held in one.lessons],
        "graphemes": one.graphemes,
        "no_lessons_own": [{"grapheme": grapheme, "times": times} for grapheme, times in one.apart],
        "tricky_words": _times(one.tricky),
        "not_yet_decodable_words": _times(one.blocked),
        "words_to_check_by_eye": _times(one.unsure),
        "not_met": one.lacking,
        "sentences": list(lengths) if one.sentences else None,
    }


def _times(words: Sequence[tuple[str, int]]) -> list[dict[str, Any]]:
    return [{"word": word, "times": times} for word, times in words]


def _lesson(held: Held) -> dict[str, Any]:
    return {
        "lesson": held.name,
        "kind": held.kind,
        "step": held.step,
        "words": list(held.words),
        "times": held.times,
        "start": held.start,
        "middle": held.middle,
        "end": held.end,
        "whole": held.whole,
        "parts": held.parts,
        "likely_words": held.offered,
    }


def _in_order(group: InOrder) -> dict[str, Any]:
    return {
        "order": group.order,
        "texts": list(group.texts),
        "lessons": [asdict(met) for met in group.met],
        "steps": [asdict(of_step) for of_step in group.steps],
    }


def as_table(covered: Sequence[Coverage]) -> str:
    """The texts as CSV: a row for each text and lesson."""
    head = [
        "path",
        "step",
        "lesson",
        "lesson_step",
        "kind",
        "words",
        "times",
        "start",
        "middle",
        "end",
        "whole",
        "parts",
    ]
    rows = []
    for at, one in enumerate(covered):
        ago = since(covered, at)
        for held in one.lessons:
            numbers = [len(held.words), held.times, held.start, held.middle, held.end, held.whole, held.parts]
            last = ago[held.name]
            since_met = "" if last is None else last
            cells = [one.parts, held.offered, since_met, " ".join(held.words)]
            rows.append([one.path, one.step, held.name, held.step, held.kind, *numbers, *cells])
    return as_csv([*head, "of_parts", "likely_words", "texts_since", "which"], rows)
