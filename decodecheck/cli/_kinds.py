"""Names of kinds of findings on the command line."""

from __future__ import annotations

import click
from click.shell_completion import CompletionItem

from decodecheck.checking import findings
from decodecheck.errors import Problem, UserError, nearest
from decodecheck.lists import findings as list_findings


def names() -> list[str]:
    """The kinds of findings on texts, and those on word lists."""
    return [*findings.names(), *list_findings.names()]


def must_be_kinds(option: str, given: tuple[str, ...]) -> None:
    """Raises UserError, with the nearest name, for the first that is no kind of finding."""
    known = names()
    wrong = next((kind for kind in given if kind not in known), None)
    if wrong is not None:
        close = nearest(wrong, known, most=1)
        todo = f"Did you mean {close[0]}?" if close else "`decodecheck findings` lists them."
        raise UserError(Problem(option, f"There is no kind of finding called {wrong!r}.", todo))


def complete(context: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The kinds whose names begin so."""
    return [CompletionItem(name) for name in names() if name.startswith(incomplete)]
