"""The reports of one check: one to standard output, others into files."""

from __future__ import annotations

import shutil
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from os import environ
from pathlib import Path
from typing import IO, TypeVar

import click

from decodecheck.bounds import real
from decodecheck.errors import Problem, UserError, nearest
from decodecheck.printing import safe
from decodecheck.project.write import refuse_unwritable, write_safely
from decodecheck.reports import check as formats
from decodecheck.reports.spool import no_room
from decodecheck.source import shown

IN_MEMORY = 1_000_000
"""Bytes of a report for a file that are kept in memory; a longer one waits in a temporary file."""


Report = TypeVar("Report")
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Destination:
    """A report that is wanted: its format, and the file that it goes into ("" for standard output)."""

    form: str
    path: str = ""


def destinations(form: str, outputs: Sequence[str], inputs: Sequence[str]) -> list[Destination]:
    """What is wanted: `form` on standard output, and a report in each of the outputs, given as FILE or FORMAT=FILE.

    Raises UserError where a format is not known, where two reports would go into one file, or where a file could not be written.
    """
    found = [Destination(form)]
    for output in outputs:
        destination = _destination(output)
        if any(t.path and real(t.path) == real(destination.path) for t in found):
            what = f"Two reports would be written into {shown(destination.path)}."
            raise UserError(Problem("--output", what, "Name another file for one of them."))
        refuse_unwritable(Path(destination.path), read=inputs, what="report")
        found.append(destination)
    return found


def _destination(output: str) -> Destination:
    name, divided, path = output.partition("=")
    if not (divided and name in formats.names()):
        path = output
        form = formats.by_suffix(path)
        if form is None:
            close = nearest(name, formats.names(), most=1) if divided and name.isalpha() else []
            if close:
                what = f"There is no format {name}."
                raise UserError(
                    Problem("--output", what, f"Did you mean {close[0]}={shown(output.partition('=')[2])}?")
                )
            what = f"The name {shown(path)} does not say which format you want."
            todo = f"End it in {', '.join(formats.suffixes())}, or write the format before it: --output sarif={shown(path)}"
            raise UserError(Problem("--output", what, todo))
        name = form
    if path in ("", "-") or "\0" in path:
        what = f"{shown(output)!r} names no file." if output != "-" else "This option is for files."
        raise UserError(Problem("--output", what, "Name one; --format says how standard output is written."))
    return Destination(name, path)


def width() -> int:
    """The columns of the terminal that standard output is; 0 where it is none."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else 0


def emphasis() -> bool:
    """Whether letters may stand out on standard output: in a terminal, unless NO_COLOR asks for none (no-color.org); elsewhere where
    FORCE_COLOR asks for it (force-color.org). Where both are set, NO_COLOR holds."""
    if environ.get("NO_COLOR"):
        return False
    if environ.get("FORCE_COLOR"):
        return True
    return sys.stdout.isatty() and environ.get("TERM") != "dumb"


def side_by_side(renderings: Sequence[Iterator[str]]) -> Iterator[tuple[int, str]]:
    """The pieces of several renderings, one of each in turn, with the number of the rendering."""
    going = dict(enumerate(renderings))
    while going:
        for number, pieces in [*going.items()]:
            piece = next(pieces, None)
            if piece is None:
                del going[number]
            else:
                yield number, piece


class Files:
    """Reports on their way into files: each waits until it is whole, and is then written in one step."""

    def __init__(self, wanted: Sequence[Destination], stack: ExitStack) -> None:
        self._waiting: list[tuple[Destination, IO[bytes]]] = [
            (destination, stack.enter_context(tempfile.SpooledTemporaryFile(IN_MEMORY)))  # noqa: SIM115 (the stack closes it)
            for destination in wanted
        ]

    def add(self, number: int, piece: str) -> None:
        """Add a piece to a report. Raises UserError where there is no room for it."""
        destination, waiting = self._waiting[number]
        try:
            waiting.write(piece.encode("utf-8", "backslashreplace"))
        except OSError as error:
            raise no_room(shown(destination.path), error) from None

    def write(self, inputs: Iterable[str]) -> Iterator[UserError]:
        """Write each report; yields why one cannot be written. None is written over what was read."""
        read = [*inputs]
        for destination, waiting in self._waiting:
            waiting.seek(0)
            try:
                write_safely(Path(destination.path), waiting, read=read, what="report")
                click.echo(f"{safe(shown(destination.path))}: written.", err=True)
            except UserError as error:
                yield error


def finish(into_files: Files, inputs: Iterable[str], notes: Iterable[str], code: int) -> int:
    """Write the reports that go into files, and say what is to be noted; returns the exit code, which is 2 where one cannot be written."""
    for error in into_files.write(inputs):
        click.echo(str(error), err=True)
        code = 2
    for note in notes:
        click.echo(note, err=True)
    return code


def remembered(ask: Callable[[Report], Answer]) -> Callable[[Report], Answer]:
    """A question about a report that several formats ask one after another, answered once."""
    last: list[tuple[Report, Answer]] = []

    def answer(report: Report) -> Answer:
        if not last or last[0][0] is not report:
            last[:] = [(report, ask(report))]
        return last[0][1]

    return answer
