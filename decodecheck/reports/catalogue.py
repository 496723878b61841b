"""What `catalogue` prints, and a catalogue read back from what was written."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

from decodecheck.catalogue import COLUMNS, TEXT, Catalogue, Row
from decodecheck.errors import Problem, UserError, count
from decodecheck.printing import as_json, safe
from decodecheck.reports import pages
from decodecheck.reports.fit import fit
from decodecheck.reports.page import Block, Page, Paragraph, Table
from decodecheck.reports.records import failure_record
from decodecheck.reports.rows import as_csv

SCHEMA = 1
FORMATS = ("text", "csv", "json", "html")
BETWEEN = "; "
"""Between the words of a cell."""
NUMBERS = ("running_words", "different_words", "step", "first_step", "held_back")
MANY = ("held_back_by", "targets", "tricky_words")
NEVER = "never"
"""In a table, the first step of a text that no step makes readable."""


def render(made: Catalogue, form: str, title: str) -> str:
    """A catalogue in one of the formats, ending in a line end; `title` is what was catalogued."""
    return {"text": _text, "csv": _csv, "json": _json, "html": _html}[form](made, title)


def _text(made: Catalogue, title: str) -> str:
    lines = []
    for row in made.rows:
        lines += [safe(line) for line in _entry(row)] + [""]
    step = sum(row.held_back == 0 for row in made.rows)
    return "\n".join(
        [*lines, f"{count(len(made.rows), 'resource')}: {step} can be read at the step that they are for.", ""]
    )


def _entry(row: Row) -> Iterator[str]:
    yield f"{row.path}: {row.title}" if row.title else row.path
    number = count(row.running_words, "word")
    at = f", for {_at(row)}" if row.step is not None else ""
    yield f"  {row.kind} of {number} ({row.different_words} different){at}; {_from(row)}"
    if row.held_back:
        yield f"  Held back by: {_held_back(row)}"
    if row.targets:
        yield f"  Targets: {', '.join(row.targets)}"
    if row.tricky_words:
        yield f"  Tricky words: {', '.join(row.tricky_words)}"


def _held_back(row: Row) -> str:
    more = row.held_back - len(row.held_back_by)
    return ", ".join(row.held_back_by) + (f" and {more} more" if more > 0 else "")


def _at(row: Row) -> str:
    return f'"{row.step_expression}"' if row.step_expression else f"step {row.step}"


def _from(row: Row) -> str:
    if row.first_step is None:
        return "can be read at no step"
    return f"can be read from step {row.first_step} on" if row.first_step else "can be read at every step"


def _csv(made: Catalogue, title: str) -> str:
    return as_csv(COLUMNS, ([_cell(row, name) for name in COLUMNS] for row in made.rows))


def _cell(row: Row, name: str) -> str:
    value = getattr(row, name)
    if name in MANY:
        return BETWEEN.join(value)
    if value is None:
        return NEVER if name == "first_step" else ""
    return str(value)


def _json(made: Catalogue, title: str) -> str:
    rows = ",\n  ".join(as_json(asdict(row)) for row in made.rows)
    failures = as_json([failure_record(failure) for failure in made.failures])
    # a line for each, so that a change of one is one line of a comparison
    between = "\n  " if rows else ""
    return f'{{"schema": {SCHEMA}, "resources": [{between}{rows}{between[:1]}], "failures": {failures}}}\n'


HEADER = ("File", "Title", "Words", "Different", "Step", "Read from", "Held back by", "Targets", "Tricky words")


def _html(made: Catalogue, title: str) -> str:
    rows = tuple(
        (
            row.path,
            row.title or ("" if row.kind == TEXT else f"({row.kind})"),
            str(row.running_words),
            str(row.different_words),
            "" if row.step is None else row.step_expression or str(row.step),
            NEVER if row.first_step is None else f"step {row.first_step}",
            _held_back(row),
            ", ".join(row.targets),
            ", ".join(row.tricky_words),
        )
        for row in made.rows
    )
    table: Block = Table(HEADER, rows, wide=(0, 1, 6, 7, 8)) if rows else Paragraph("There is nothing in it.")
    names = ", ".join(dict.fromkeys(row.progression for row in made.rows))
    rendered = pages.named("html").render(fit(Page(f"Catalogue of {title}", names, (table,), "landscape")))
    assert isinstance(rendered, str)
    return rendered


# -- read back --------------------------------------------------------------------------------------------------------------


def read_back(text: str, form: str, path: str) -> list[Row]:
    """The rows of a catalogue that was written as csv or json. Raises UserError where it is none."""
    read: Callable[[str], list[Row]] = {"csv": _from_csv, "json": _from_json}[form]
    try:
        return read(text)
    except (ValueError, KeyError, TypeError, csv.Error, RecursionError):
        what = "This is no catalogue that decodecheck wrote, or it is damaged."
        raise UserError(Problem(path, what, f"Write it anew: decodecheck catalogue FOLDER -o {path}")) from None


def _from_csv(text: str) -> list[Row]:
    head, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    if tuple(head) != COLUMNS:
        raise ValueError
    return [_row(dict(zip(COLUMNS, row, strict=True))) for row in rows]


def _row(cells: dict[str, str]) -> Row:
    values: dict[str, Any] = {name: tuple(cells[name].split(BETWEEN)) if cells[name] else () for name in MANY}
    values |= {name: int(cells[name]) if cells[name] not in ("", NEVER) else None for name in NUMBERS}
    return Row(**cells | values)


def _from_json(text: str) -> list[Row]:
    data = json.loads(text)
    if data["schema"] != SCHEMA:
        raise ValueError
    return [_of_record(record) for record in data["resources"]]


def _of_record(record: dict[str, Any]) -> Row:
    row = Row(**record | {name: tuple(record[name]) for name in MANY})
    if not all(isinstance(getattr(row, name), int | None) for name in NUMBERS) or not isinstance(row.path, str):
        raise TypeError
    return row


def as_written(rows: Sequence[Row], form: str) -> list[Row]:
    """Rows as `read_back` gives them after they were written in a format."""
    if form == "json":
        return [_of_record(json.loads(as_json(asdict(row)))) for row in rows]
    return [_row({name: _cell(row, name) for name in COLUMNS}) for row in rows]
