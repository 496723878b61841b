"""The page of an overview: a table by step, then what lies close together and what a standard has beyond it."""

from __future__ import annotations

from collections.abc import Iterator

from decodecheck.errors import count
from decodecheck.insight.overview import SIZES, Overview, StepRow
from decodecheck.reports.page import Block, Entry, Heading, Page, Paragraph, Table

MOST = 60
"""Uncovered items that are named."""


def page(o: Overview) -> Page:
    """The page, in the shape of a wall table."""
    blocks = tuple(_blocks(o))
    variant = f'at "{o.order.variant}"' if o.order.variant else f"up to step {o.step}" if o.step < o.order.last else ""
    subtitle = f"{count(len(o.rows), 'step')}, {o.order.accent}" + (f", {variant}" if variant else "")
    return Page(o.order.name, subtitle, blocks, "landscape")


def _blocks(o: Overview) -> Iterator[Block]:
    header = ("Step", "Taught", "Tricky words", *(f"Of {size}" for size in SIZES))
    yield Table(header, tuple(_row(row) for row in o.rows), wide=(1, 2))
    yield Paragraph(
        f"Of {SIZES[0]}, of {SIZES[1]}: how many of the commonest words of English become decodable at the step, and in "
        "brackets how many can be read by then, the second figure with the tricky words. Structures and endings count; "
        "capitals do not."
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


def _row(row: StepRow) -> tuple[str, ...]:
    step = f"{row.number} {row.title}".strip()
    lessons = ", ".join(t.text for t in row.taught)
    tricky = ", ".join(f"{word} ({odd})" if odd else word for word, odd in row.tricky)
    counts = (f"+{r.new} ({r.decodable}, {r.with_tricky})" for r in row.readable)
    return (step, lessons, tricky, *counts)


def _uncovered(o: Overview) -> Iterator[Block]:
    if not o.uncovered:
        yield Paragraph("Everything in it is covered.")
        return
    for step in dict.fromkeys(u.step for u in o.uncovered):
        items = [u.name for u in o.uncovered if u.step == step and not u.tricky]
        words = [u.name for u in o.uncovered if u.step == step and u.tricky]
        if items:
            yield Entry(step, ", ".join(items[:MOST]) + (f" and {len(items) - MOST} more" if len(items) > MOST else ""))
        if words:
            yield Entry(f"{step}, words", ", ".join(words[:MOST]))
