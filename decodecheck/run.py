"""What a run over texts gives: reports, what could not be checked, notes, and the exit code that follows."""

from __future__ import annotations

import os
import traceback
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TypeVar

from decodecheck.checking.kinds import ERROR, WARNING
from decodecheck.checking.report import TextReport
from decodecheck.errors import TRACEBACK, Problem, UserError
from decodecheck.lists.report import ListReport
from decodecheck.source import shown

FINE, FOUND, FAILED = 0, 1, 2
"""Exit codes: no word was found that cannot be read; some; something could not be checked."""

Report = TextReport | ListReport
"""What is said of one file."""
Result = TypeVar("Result")


@dataclass(frozen=True)
class Failure:
    """Something that could not be checked: its path as it was given or found, and why. `is_text` is false of a table of a
    configuration, which takes no text away."""

    path: str
    problems: tuple[Problem, ...]
    is_text: bool = True

    @property
    def problem(self) -> Problem:
        """What is said of it first."""
        return self.problems[0]

    @property
    def error(self) -> UserError:
        """The failure as an error."""
        return UserError(*self.problems)


@dataclass
class Run:
    """The reports on some texts.

    `results` is a tuple, or a stream that can be read once and makes each report when it is asked for; of a stream, the rest is complete
    only after it has been read to its end. `failures` are what could not be checked, `notes` what else is to be told.
    """

    results: Iterable[Report]
    failures: list[Failure] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    aside: list[str] = field(default_factory=list)
    """What of the texts is not told, or was not looked at, because somebody wants it so: a sentence each."""
    texts: int = 0
    """How many texts there are to be checked."""
    found: int = 0
    """How many texts have errors, of those that were read."""
    warned: int = 0
    """How many others have warnings, for more than blocked words that their project lets through."""
    strict: int = 0
    """How many of these are of a project in which warnings fail."""

    def __iter__(self) -> Iterator[Report]:
        """The reports one after another, each counted."""
        self.found = self.warned = self.strict = 0
        for report in self.results:
            self.found += report.severity == ERROR
            warned = report.severity == WARNING and report.to_see_to
            self.warned += warned
            self.strict += warned and report.treatment.strict
            yield report

    def each(self, work: Callable[[Report], Result]) -> Iterator[Result]:
        """What `work` makes of each report; where it fails, that is one of the failures."""
        for report in self:
            made = guarded(report.path, partial(work, report))
            if not isinstance(made, Failure):
                yield made
            elif made not in self.failures:
                # of several formats, each fails on such a report
                self.failures.append(made)

    def whole(self) -> Run:
        """The run with all its reports made: a value that can be kept, compared and pickled."""
        results = tuple(self)
        return replace(self, results=results, texts=len(results))

    def shared(self, number: int) -> list[Run]:
        """The run for so many readers who go through it side by side: each report is made once, and kept until all have had it."""
        waiting: list[deque[Report]] = [deque() for _ in range(number)]
        source = iter(self.results)
        return [replace(self, results=_reader(source, waiting, own)) for own in waiting]

    def exit_code(self, *, strict: bool = False) -> int:
        """2 where something could not be checked, 1 where words cannot be read (with `strict`: or are to be checked by eye), else 0."""
        if self.failures:
            return FAILED
        return FOUND if self.found or self.strict or (strict and self.warned) else FINE


def _reader(source: Iterator[Report], waiting: Sequence[deque[Report]], own: deque[Report]) -> Iterator[Report]:
    """Reports for one of several readers (`itertools.tee` lets go of what all have had only by the dozen)."""
    while True:
        if not own:
            for report in source:
                for queue in waiting:
                    queue.append(report)
                del report
                break
            else:
                return
        yield own.popleft()


def guarded(path: str, work: Callable[[], Result]) -> Result | Failure:
    """What `work` on a text gives; a failure where it cannot be done, also where the fault is the program's own."""
    try:
        return work()
    except UserError as error:
        return Failure(path, error.problems)
    except Exception as error:
        if os.environ.get(TRACEBACK):
            traceback.print_exc()
        what = (
            f"decodecheck failed on this text ({type(error).__name__}: {error}). The fault is the program's, not yours."
        )
        todo = f"Please report it, with the text and what {TRACEBACK}=1 prints."
        return Failure(path, (Problem(shown(path), " ".join(what.split()), todo),))
