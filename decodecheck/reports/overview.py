"""The pages of an overview: a sheet for the wall, then sheets for the teacher with figures, unusual parts and what is missing."""

from __future__ import annotations

from collections.abc import Iterator

from decodecheck.errors import count
from decodecheck.insight.key_words import by_sound
from decodecheck.insight.naming import Taught, step_name
from decodecheck.insight.overview import SIZES, Overview, StepRow
from decodecheck.reports.page import Block, Card, Display, Entry, Heading, Page, Paragraph, Sheet, Table

MOST = 60
"""Uncovered items that are named."""
FOR_TEACHERS = ("structure", "adjacent")
"""What a step teaches without a grapheme of its own; it stands on the teacher's sheet."""


def page(o: Overview) -> Page:
    """The sheet to pin up and the sheets to keep."""
    variant = f'at "{o.order.variant}"' if o.order.variant else f"up to step {o.step}" if o.step < o.order.last else ""
    subtitle = f"{count(len(o.rows), 'step')}, {o.order.accent}" + (f", {variant}" if variant else "")
    return Page(o.order.name, subtitle, tuple(_blocks(o)), "landscape")


def _blocks(o: Overview) -> Iterator[Block]:
    cards = (_card(o, row) for row in o.rows)
    yield Display(tuple(card for card in cards if card.graphemes or card.words))
    yield Sheet("For the teacher")
    yield Heading("How many of the commonest words can be read")
    header = ("Step", *(text for size in SIZES for text in (f"Of {size}: new", "by letters", "and tricky words")))
    yield Table(header, tuple(_figures(row) for row in o.rows))
    yield Paragraph(
        f"Of the {SIZES[0]} and the {SIZES[1]} words that are likely to be commonest in books for young children: how many can be "
        "decoded for the first time at the step, how many can be decoded by then, and how many can be read if the tricky words are counted, too. Structures "
        "and endings count; capitals do not."
    )
    if any(_unusual(row) or _structures(row) for row in o.rows):
        yield Heading("Tricky words, and what is unusual in them")
        rows = ((step_name(r.number, r.title), _unusual(r), _structures(r)) for r in o.rows)
        structures = any(_structures(r) for r in o.rows)
        yield Table(
            ("Step", "Tricky words", "Word structures")[: 2 + structures],
            tuple(row[: 2 + structures] for row in rows if any(row[1:])),
            wide=(1,),
        )
    if o.neighbours:
        yield Heading("Easily confused, taught in the same step or in one of the next two")
        yield Table(
            ("Step", "Lesson", "Step", "Lesson", "Why"),
            tuple((str(n.one_step), n.one, str(n.other_step), n.other, n.why) for n in o.neighbours),
        )
    if o.standard:
        yield Heading(f"Not taught here: {o.standard}")
        yield from _uncovered(o)


def _card(o: Overview, row: StepRow) -> Card:
    graphemes = [pair for lesson in row.taught if lesson.mention.kind not in FOR_TEACHERS for pair in _pairs(o, lesson)]
    return Card(step_name(row.number, row.title), tuple(graphemes), tuple(word for word, _ in row.tricky))


def _pairs(o: Overview, lesson: Taught) -> Iterator[tuple[str, str]]:
    """A grapheme with its key word; once for each sound where the progression names several."""
    if " as in " in lesson.mention.label:
        yield from ((lesson.name, word) for part in by_sound(o.order, lesson) for word in part.words[:1])
    else:
        yield lesson.name, lesson.words[0] if lesson.words else ""


def _figures(row: StepRow) -> tuple[str, ...]:
    counts = (str(n) for r in row.readable for n in (r.new, r.decodable, r.with_tricky))
    return (step_name(row.number, row.title), *counts)


def _unusual(row: StepRow) -> str:
    return ", ".join(f"{word} ({odd})" if odd else word for word, odd in row.tricky)


def _structures(row: StepRow) -> str:
    return ", ".join(lesson.name for lesson in row.taught if lesson.mention.kind in FOR_TEACHERS)


def _uncovered(o: Overview) -> Iterator[Block]:
    if not o.uncovered:
        yield Paragraph("Everything in it is covered.")
        return
    for step in dict.fromkeys(u.step for u in o.uncovered):
        items = [u.name for u in o.uncovered if u.step == step and not u.tricky]
        words = [u.name for u in o.uncovered if u.step == step and u.tricky]
        if items:
            yield Entry(step, _some(items))
        if words:
            yield Entry(f"{step}, words", _some(words))


def _some(names: list[str]) -> str:
    return ", ".join(names[:MOST]) + (f" and {len(names) - MOST} more" if len(names) > MOST else "")
