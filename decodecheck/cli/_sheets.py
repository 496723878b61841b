"""Sheets of words: what both commands that make one share."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from decodecheck.bounds import real
from decodecheck.cli._pages import page_format
from decodecheck.errors import Problem, UserError
from decodecheck.project.write import write_safely
from decodecheck.reports import pages
from decodecheck.reports.fit import fit
from decodecheck.reports.page import Page
from decodecheck.reports.sheet import MOST, PARTS, WordSheet, page

if TYPE_CHECKING:
    from decodecheck.cli._written import Here


def sheet_page(sheet: WordSheet, parts: Sequence[str], paper: str | None, where: str) -> Page:
    """The page of a sheet, as the options ask for it. Raises UserError for more words than a sheet may hold; `where` is what says so many."""
    if len(sheet.words) > MOST:
        what = f"These are {len(sheet.words):,} words; a sheet holds up to {MOST}."
        raise UserError(Problem(where, what, "Take fewer, or make several sheets."))
    return page(sheet, parts or PARTS, paper or "a4")


def sheet_format(output: str) -> str:
    """In which format `words --sheet` writes. Raises UserError where the name does not say it."""
    return page_format(output, "--sheet", "as the name of a file does")


def refuse_same(sheet: str, output: str | None) -> None:
    """Raises UserError where a list and its sheet would be one file."""
    try:
        same = output is not None and real(output) == real(sheet)
    except ValueError:
        return
    if same:
        raise UserError(Problem("--sheet", "The list goes into the same file.", "Name another, or leave --output out."))


def write_sheet(made: Page, output: str, here: Here) -> None:
    """Write a sheet into a file. Raises UserError where that would replace what was read, or is not possible."""
    rendered = pages.named(sheet_format(output)).render(fit(made))
    write_safely(Path(output), rendered, read=here.inputs)
