"""Put a page out: to the terminal or into a file, in the format asked for."""

from __future__ import annotations

import importlib
from collections.abc import Iterable
from pathlib import Path

import click

from decodecheck.api import Session
from decodecheck.errors import Problem, UserError
from decodecheck.printing import safe
from decodecheck.project.write import write_safely
from decodecheck.reports.fit import fit
from decodecheck.reports.page import Page
from decodecheck.source import shown

SUFFIXES = ("", ".txt", ".html", ".htm", ".docx")
"""Ends of names that say in which format a page is written; text where there is none."""


def put_out(page: Page, form: str | None, output: str | None, *, inputs: Iterable[str] = ()) -> None:
    """Print a page or write it to `output`; the format follows from the end of that name unless it is given.

    Raises UserError where output would replace one of the inputs, which is all that was read, or where a Word document has no file to go to.
    """
    if form is None and output is not None and Path(output).suffix.lower() not in SUFFIXES:
        what = f"The name {shown(output)} does not say which format you want."
        raise UserError(Problem("--output", what, f"End it in {', '.join(s for s in SUFFIXES if s)}, or add --format."))
    if form is None:
        form = {".html": "html", ".htm": "html", ".docx": "docx"}.get(Path(output or "").suffix.lower(), "text")
    if form == "docx" and output is None:
        raise UserError(Problem("--format", "A Word document cannot be printed here.", "Add --output FILE.docx."))
    rendered = importlib.import_module(f"decodecheck.reports.page_{form}").render(fit(page))
    if output is None:
        click.echo(rendered, nl=False)
        return
    write_safely(Path(output), rendered, read=inputs)
    click.echo(f"{safe(shown(output))}: written.")


def tell_notes(session: Session) -> None:
    """Say on standard error which clauses of step expressions change nothing."""
    for note in session.notes:
        click.echo(note, err=True)
