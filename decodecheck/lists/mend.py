"""Mend what can be mended safely in a list file: segmentations, numbers of sounds, repeated words, the order. Nothing else in it changes.

Of text, the cells that change are written anew, and whole rows change places with all that stands in them. Of a workbook, the cells of the one sheet
(`documents/workbook_parts.py`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from decodecheck.documents.separated import as_field
from decodecheck.documents.workbook_parts import Changes, WorkbookParts
from decodecheck.errors import count
from decodecheck.lists.divisions import is_right
from decodecheck.lists.examined import Asked, Examined, Fact
from decodecheck.lists.mended_cells import declared_sounds, right_segmentation
from decodecheck.lists.ordering import Ordering
from decodecheck.lists.reading import ListFile
from decodecheck.lists.word_list import SEGMENTATION, SOUNDS, ListCell
from decodecheck.progression.step_expression import Standing
from decodecheck.source import encode_like


@dataclass
class Mended:
    """What was mended: the file's new bytes (None where nothing was), how many cells, rows taken out and runs put in order; and what
    was left as it is, with the reason."""

    data: bytes | None = None
    cells: int = 0
    removed: int = 0
    ordered: int = 0
    left: list[str] = field(default_factory=list)

    def told(self) -> str:
        """What was mended, in a sentence; "" for nothing."""
        parts = [
            count(self.cells, "cell") + " put right" if self.cells else "",
            count(self.removed, "repeated word") + " taken out" if self.removed else "",
            "put in order" if self.ordered else "",
        ]
        return ", ".join(part for part in parts if part)


@dataclass
class _Plan:
    """What is to be done to one list: new texts or numbers of cells by entry; and blocks of entries, between empty rows, as they stand and
    as they are to stand."""

    cells: list[tuple[Fact, str, str | int]] = field(default_factory=list)
    blocks: list[tuple[list[Fact], list[Fact]]] = field(default_factory=list)
    removed: int = 0
    ordered: int = 0


def mend(file: ListFile, standing: Standing, asked: Asked) -> Mended:
    """The file mended. Where a target or a step cannot be meant, no row is moved or taken out."""
    mended = Mended()
    plans = [_plan(Examined(word_list, standing, asked), mended) for word_list in file.lists]
    if file.source is None:
        _mend_workbook(file, plans, mended)
    mended.removed, mended.ordered = sum(p.removed for p in plans), sum(p.ordered for p in plans)
    if file.source is None:
        return mended
    if any(plan.cells or plan.blocks for plan in plans):
        mended.data = encode_like(_mend_text(file, plans[0]), file.data)
    return mended


def _plan(examined: Examined, mended: Mended) -> _Plan:
    plan = _Plan()
    for fact in examined.words:
        segmentation, sounds = fact.entry.cells.get(SEGMENTATION), fact.entry.cells.get(SOUNDS)
        if segmentation and not is_right(segmentation.text, fact.readings, examined.order.item_step):
            plan.cells.append((fact, SEGMENTATION, right_segmentation(fact)))
        if sounds and declared_sounds(sounds.text) not in {examined.sounds(reading) for reading in fact.readings}:
            plan.cells.append((fact, SOUNDS, examined.sounds(fact.readings[0])))
    mended.cells += len(plan.cells)
    if examined.problems:
        return plan
    again = _repeated(examined)
    ordering = Ordering(examined)
    blocks: list[tuple[list[Fact], list[Fact]]] = []
    for run in ordering.runs:
        kept = [fact for fact in run if id(fact) not in again]
        if examined.asked.ordered:
            wanted = ordering.in_order(kept)
            plan.ordered += wanted != kept
            kept = wanted
        if not blocks or not run[0].entry.follows:
            blocks.append(([], []))
        blocks[-1][0].extend(run)
        blocks[-1][1].extend(kept)
    plan.blocks = [(stand, wanted) for stand, wanted in blocks if stand != wanted]
    plan.removed = len(again)
    return plan


def _repeated(examined: Examined) -> set[int]:
    """Entries that say nothing but what one before them says: the same word, and no cell that is different, but for those that are put right."""
    aside = {examined.list.columns[name] for name in (SEGMENTATION, SOUNDS) if name in examined.list.columns}
    earlier: dict[str, list[Fact]] = {}
    found = set()
    for fact in examined.facts:
        key = fact.word or " ".join(fact.form.lower().split())
        if any(_says_no_more(fact, before, aside) for before in earlier.get(key, ())):
            found.add(id(fact))
        else:
            earlier.setdefault(key, []).append(fact)
    return found


def _says_no_more(fact: Fact, before: Fact, aside: set[int]) -> bool:
    """Whether every cell of an entry is empty, or that of one before it; those in columns `aside` are put right for both."""
    others = (*before.entry.texts, *[""] * len(fact.entry.texts))
    return all(
        not own or own.lower() == other.lower() or (column in aside and bool(fact.readings))
        for column, (own, other) in enumerate(zip(fact.entry.texts, others))
    )


# -- text -----------------------------------------------------------------------------------------------------------------


def _mend_text(file: ListFile, plan: _Plan) -> str:
    assert file.source is not None
    text = file.source.text
    edits: list[tuple[int, int, str]] = []
    rows: dict[int, list[tuple[int, int, str]]] = {}
    for fact, column, value in plan.cells:
        cell = fact.entry.cells[column]
        rows.setdefault(fact.entry.row, []).append(_cell_edit(file, fact, cell, str(value)))
    moved = {fact.entry.row for stand, _ in plan.blocks for fact in stand}
    for row, changes in rows.items():
        if row not in moved:
            edits += changes
    for stand, wanted in plan.blocks:
        # rows change places, line ends stay where they are
        spans = [_row_span(file, fact) for fact in stand]
        texts = [_edited(text, *_row_span(file, fact), rows.get(fact.entry.row, [])) for fact in wanted]
        edits += [(start, end, own) for (start, end), own in zip(spans, texts)]
        edits += [(_line_end_before(file, fact), end, "") for fact, (_, end) in zip(stand, spans)][len(texts) :]
    return _edited(text, 0, len(text), edits)


def _cell_edit(file: ListFile, fact: Fact, cell: ListCell, value: str) -> tuple[int, int, str]:
    """The change of a cell: of its text, or of the whole field where quotation marks are in play."""
    assert file.source is not None
    field_ = next(f for f in file.lines[fact.entry.row - 1].fields if f.start <= cell.start and cell.end <= f.end)
    raw = file.source.text[field_.start : field_.end]
    written = as_field(value, raw, file.delimiter)
    if raw.startswith('"') or written != value:
        return field_.start, field_.end, written
    return cell.start, cell.end, value


def _row_span(file: ListFile, fact: Fact) -> tuple[int, int]:
    """Where the row of an entry stands, without its line end; in a plain list, without its number or bullet."""
    if file.lines:
        line = file.lines[fact.entry.row - 1]
        return line.start, line.end
    assert file.source is not None
    start = file.source.line_starts[fact.entry.row - 1]
    return fact.entry.word.start, start + len(file.source.line(fact.entry.row))


def _line_end_before(file: ListFile, fact: Fact) -> int:
    """Where the line end before a row starts: a row is taken out with it, so that a file ends as it did. (A first row is never taken out: it repeats
    nothing.)"""
    assert file.source is not None
    start = file.lines[fact.entry.row - 1].start if file.lines else file.source.line_starts[fact.entry.row - 1]
    return start - (2 if file.source.text[:start].endswith("\r\n") else 1)


def _edited(text: str, start: int, end: int, edits: Sequence[tuple[int, int, str]]) -> str:
    """A stretch of a text with changes in it, none of which overlap."""
    pieces, at = [], start
    for first, last, instead in sorted(edits):
        pieces += [text[at:first], instead]
        at = last
    return "".join([*pieces, text[at:end]])


# -- workbooks --------------------------------------------------------------------------------------------------------------


def _mend_workbook(file: ListFile, plans: Sequence[_Plan], mended: Mended) -> None:
    parts = WorkbookParts(file.data)
    changes: dict[str, Changes] = {}
    for word_list, plan in zip(file.lists, plans):
        tied = parts.tied(word_list.title) if plan.blocks else ""
        if tied:
            where = f"sheet {word_list.title} has {tied}" if tied != "formulas" else "this workbook has formulas"
            mended.left.append(f"No row was moved or taken out: {where}, which would no longer fit. Do it by hand.")
            plan.blocks, plan.removed, plan.ordered = [], 0, 0
        change = Changes()
        new_row: dict[int, int] = {}
        for stand, wanted in plan.blocks:
            for at, number in enumerate(fact.entry.row for fact in stand):
                change.rows[number] = wanted[at].entry.row if at < len(wanted) else 0
                if at < len(wanted):
                    new_row[id(wanted[at])] = number
        formulas = parts.formulas(word_list.title)
        for fact, column, value in plan.cells:
            there = word_list.columns[column] + 1
            if (fact.entry.row, there) in formulas:
                mended.cells -= 1
                mended.left.append(
                    f"{fact.entry.cells[column].place.words().capitalize()} holds a formula and was left as it is."
                )
                continue
            change.cells[new_row.get(id(fact), fact.entry.row), there] = value
        change.rows = {to: source for to, source in change.rows.items() if to != source}
        if change.cells or change.rows:
            changes[word_list.title] = change
    if changes:
        mended.data = parts.changed(changes)
