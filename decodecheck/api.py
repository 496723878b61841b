"""The one door for everything below: check texts, explain words, as plain Python objects."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from decodecheck.checking.check import Checker, TextReport
from decodecheck.checking.judge import Judge
from decodecheck.errors import Problem, UserError
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load
from decodecheck.project.config import Config, find_config
from decodecheck.project.discover import find_texts
from decodecheck.project.steps import choose_step
from decodecheck.source import SourceText, read_text


@dataclass(frozen=True)
class CheckedText:
    """A report with the teaching order it was made against."""

    report: TextReport
    order: TeachingOrder


class Session:
    """Checks texts; progressions and what is known of words are kept from text to text."""

    def __init__(self, progression: str | None = None, step: str | None = None) -> None:
        self.progression = progression
        self.step = step
        self._orders: dict[str, TeachingOrder] = {}
        self._checkers: dict[tuple[str, int], Checker] = {}

    def order(self, path: str) -> TeachingOrder:
        """A progression, read once. Raises UserError with all its mistakes."""
        if path not in self._orders:
            self._orders[path] = load(path)
        return self._orders[path]

    def settings(self, path: str) -> tuple[TeachingOrder, int]:
        """The teaching order and the step for a text: as given, else from the nearest configuration.

        Raises UserError where no progression is known.
        """
        config: Config | None = None
        if self.progression is None or self.step is None:
            config = find_config(Path.cwd() if path == "-" else Path(path))
        where = self.progression or (config.progression if config else None)
        if where is None:
            raise UserError(
                Problem(
                    "standard input" if path == "-" else path,
                    "No progression is given for this text.",
                    'Name one with --progression FILE, or in a decodecheck.toml: progression = "school.progression"',
                )
            )
        order = self.order(where)
        wanted = self.step
        if wanted is None and config is not None and self.progression is None:
            wanted = config.step if path == "-" else config.step_for(Path(path))
        return order, choose_step(order, wanted)

    def check(self, path: str, *, every_word: bool = False) -> CheckedText:
        """The report on one text (`-`: standard input). Raises UserError where it cannot be read."""
        order, step = self.settings(path)
        source = read_text(path)
        if not source.text.strip():
            raise UserError(Problem(source.path, "This text is empty.", "Put the text in, or leave the file out."))
        return CheckedText(self.check_source(source, order, step, every_word=every_word), order)

    def check_source(
        self, source: SourceText, order: TeachingOrder, step: int, *, every_word: bool = False
    ) -> TextReport:
        """The report on a text that is already read."""
        key = (order.path, step)
        if key not in self._checkers:
            self._checkers[key] = Checker(Judge(order, step))
        return self._checkers[key].check(source, every_word=every_word)

    def check_all(self, paths: Sequence[str], *, every_word: bool = False) -> Iterator[CheckedText | UserError]:
        """Reports on all texts under the paths, in order; a text that cannot be checked gives its error instead.

        Raises UserError at once for paths that are not there.
        """
        for path in find_texts(paths):
            try:
                yield self.check(path, every_word=every_word)
            except UserError as error:
                yield error
