"""Put a page out: to the terminal or into a file, in the format asked for."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from decodecheck.errors import Problem, UserError
from decodecheck.printing import safe
from decodecheck.project.write import write_safely
from decodecheck.reports import pages
from decodecheck.reports.fit import fit
from decodecheck.reports.page import Page
from decodecheck.source import shown

if TYPE_CHECKING:
    # slow to load, and lists of words do without it
    from decodecheck.session import Session


def put_out(page: Page, form: str | None, output: str | None, *, inputs: Iterable[str] = ()) -> None:
    """Print a page or write it to `output`; the format follows from the end of that name unless it is given.

    Raises UserError where output would replace one of the inputs, which is all that was read, or where what cannot be printed has no
    file to go to.
    """
    form = form or page_format(output)
    rendered = pages.named(form).render(fit(page))
    if output is not None:
        write_safely(Path(output), rendered, read=inputs)
        click.echo(f"{safe(shown(output))}: written.")
    elif isinstance(rendered, bytes):
        raise UserError(Problem("--format", "A Word document cannot be printed here.", f"Add --output FILE.{form}."))
    else:
        click.echo(rendered, nl=False)


def page_format(
    output: str | None, option: str = "--output", more: str = "or add --format", also: tuple[str, ...] = ()
) -> str:
    """The format of a page that the end of a file's name says; text for no file. Raises UserError where it says none, with the ends
    that do: those of pages, and those that are meant `also`."""
    form = pages.by_suffix(Path(output or "").suffix.lower())
    if form is None:
        what = f"The name {shown(output or '')} does not say which format you want."
        raise UserError(Problem(option, what, f"End it in {', '.join((*pages.suffixes(), *also))}, {more}."))
    return form


def tell_notes(session: Session) -> None:
    """Say on standard error which clauses of step expressions change nothing."""
    for note in session.notes:
        click.echo(note, err=True)
