"""Names of kinds of findings on the command line."""

from __future__ import annotations

import click
from click.shell_completion import CompletionItem

from decodecheck.errors import Problem, UserError
from decodecheck.project.kind_names import kind_names, nearest_kind


def must_be_kinds(option: str, given: tuple[str, ...]) -> None:
    """Raises UserError, with the nearest name, for the first that is no kind of finding."""
    known = kind_names()
    wrong = next((kind for kind in given if kind not in known), None)
    if wrong is not None:
        what = f"There is no kind of finding called {wrong!r}."
        raise UserError(Problem(option, what, nearest_kind(wrong)))


def complete(context: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The kinds whose names begin so."""
    return [CompletionItem(name) for name in kind_names() if name.startswith(incomplete)]
