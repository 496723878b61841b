"""How far a long check has come: a line on standard error that goes away before anything else is printed.

rich takes as long to load as an answer that is kept, click's bar leaves an empty line behind, and both write past the streams that are made safe.
"""

from __future__ import annotations

import shutil
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from os import environ

from decodecheck.cli._streams import Stream
from decodecheck.run import Report, Run

AFTER = 1.0
"""Seconds of work that are done without it."""
EVERY = 0.1
"""Seconds after which it is drawn anew."""
ERASE = "\r\x1b[K"
"""To the start of the line, and erase it (ECMA-48, 8.3.15 CR and 8.3.41 EL)."""
WIDEST = 40


def is_wanted(*, quiet: bool) -> bool:
    """Whether somebody looks on: standard error is a terminal, no CI server's (CI is set, common practice), and --quiet was not asked for."""
    err = sys.stderr
    return bool(
        isinstance(err, Stream)
        and err.isatty()
        and not quiet
        and not environ.get("CI")
        and environ.get("TERM") != "dumb"
    )


class Progress:
    """A bar for a run, by how many of its texts have been checked or have failed."""

    def __init__(self, run: Run, on: Stream | None) -> None:
        self._run = run
        self._on = on
        self._done = 0
        self._drawn = False
        self._next = time.monotonic() + AFTER
        if on:
            run.results = self._counted(run.results)

    def _counted(self, results: Iterable[Report]) -> Iterator[Report]:
        for report in results:
            self._done += 1
            self._draw()
            yield report

    def _draw(self) -> None:
        now = time.monotonic()
        if self._on and now >= self._next:
            self._next = now + EVERY
            done = min(self._run.texts, self._done + sum(failure.is_text for failure in self._run.failures))
            self._on.write_document(ERASE + line(done, self._run.texts, shutil.get_terminal_size().columns))
            self._on.flush()
            self._drawn = True

    def clear(self) -> None:
        """Take it away, so that something else can be printed."""
        if self._drawn and self._on:
            self._drawn = False
            self._on.write_document(ERASE)
            self._on.flush()


def line(done: int, of: int, columns: int) -> str:
    """The bar with its figures, in less than so many columns."""
    figures = f"{done} of {of} texts"
    room = min(WIDEST, columns - len(figures) - len("Checking []  ") - 1)
    if room < 5:
        return f"Checking {figures}"[: max(0, columns - 1)]
    full = room * done // max(of, 1)
    return f"Checking [{'#' * full}{'-' * (room - full)}]  {figures}"


@contextmanager
def shown(run: Run, *, quiet: bool) -> Iterator[Progress]:
    """A progress bar for a run, where somebody looks on; it is gone in the end, however that comes about."""
    on = sys.stderr if is_wanted(quiet=quiet) else None
    progress = Progress(run, on if isinstance(on, Stream) else None)
    try:
        yield progress
    finally:
        progress.clear()
