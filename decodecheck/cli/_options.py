"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click
from click.shell_completion import CompletionItem

from decodecheck.reports import pages

FORMATS = ("text", "json", "csv")
"""In which lists of words are written."""
Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]


def files_argument() -> Decorator:
    """FILES: what is checked, completed as names of files by a shell."""
    return click.argument("files", nargs=-1, required=True, shell_complete=file_names)


def file_names(context: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Names of files: the shell looks for them."""
    return [CompletionItem(incomplete, type="file")]


def progression_option() -> Decorator:
    """`--progression FILE`."""
    return click.option(
        "--progression",
        metavar="FILE",
        shell_complete=file_names,
        help="The order of teaching. Without it: from the nearest decodecheck.toml.",
    )


def step_options(otherwise: str) -> Decorator:
    """`--step STEP` and `--group NAME`; `otherwise` says what holds without them."""

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        group = click.option("--group", metavar="NAME", help="A group named under [groups] in decodecheck.toml.")
        step = click.option(
            "--step",
            metavar="STEP",
            help='Number or title of a step; also "14 lag 2", "14 also igh as in light", "14 except ow as in town". '
            f"Without it: {otherwise}.",
        )
        return step(group(function))

    return add


def baseline_option(*, required: bool = False) -> Decorator:
    """`--baseline FILE`."""
    return click.option(
        "--baseline",
        metavar="FILE",
        required=required,
        shell_complete=file_names,
        help="Findings that this file holds do not fail and are not told. `decodecheck baseline write` writes it.",
    )


def list_options() -> Decorator:
    """`--list`, `--order easy` and `--target ITEM`: what is asked of word lists."""

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        lists = click.option(
            "--list", "lists", is_flag=True, help="Take every file for a word list, one entry a line in a .txt file."
        )
        order = click.option(
            "--order", type=click.Choice(["easy"]), help="Lists: their words are to go from easy to hard to spell."
        )
        target = click.option(
            "--target", metavar="ITEM", default="", help='Lists: every word is to hold it: "ow as in grow".'
        )
        return lists(order(target(function)))

    return add


def check_options() -> Decorator:
    """What every command that checks texts and lists is asked: progression, step or group, how lists are treated."""

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        steps = step_options("from decodecheck.toml, else the last step")
        return progression_option()(steps(list_options()(function)))

    return add


def page_options() -> Decorator:
    """`--format FORMAT` and `--output FILE` of commands that make a page."""

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        form = click.option(
            "--format",
            "form",
            type=click.Choice(pages.names()),
            help="The format of the page. Without it: by the name of the output file, else text.",
        )
        output = click.option(
            "--output", "-o", metavar="FILE", shell_complete=file_names, help="Write the page into a file."
        )
        return form(output(function))

    return add


def written_options() -> Decorator:
    """`--format FORMAT` and `--output FILE` of commands that make a list of words."""

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        form = click.option(
            "--format",
            "form",
            type=click.Choice(FORMATS),
            help="How to write the list. Without it: by the name of the output file, else text.",
        )
        output = click.option(
            "--output", "-o", metavar="FILE", shell_complete=file_names, help="Write the list into a file."
        )
        return form(output(function))

    return add


PAPERS = ("a4", "letter")
SHEET_PARTS = ("dictation", "frames", "cards")


def sheet_options(condition: str = "") -> Decorator:
    """`--part PART`, `--paper PAPER` and `--title TITLE` of a sheet; `condition` says when they are meant."""

    def add(function: Callable[..., Any]) -> Callable[..., Any]:
        part = click.option(
            "--part",
            "parts",
            multiple=True,
            type=click.Choice(SHEET_PARTS),
            help=f"{condition}The dictation for the adult, phoneme frames for the child, word cards; may be repeated. "
            "Without it: all three.",
        )
        paper = click.option("--paper", type=click.Choice(PAPERS), help=f"{condition}Without it: a4.")
        title = click.option("--title", metavar="TITLE", help=f"{condition}What stands at its head.")
        return part(paper(title(function)))

    return add
