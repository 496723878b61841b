"""The one door for everything below: check texts, explain words, as plain Python objects."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from decodecheck.checking.check import Checker
from decodecheck.checking.judge import Judge
from decodecheck.checking.report import TextReport
from decodecheck.documents.tagging import tagger
from decodecheck.errors import Problem, UserError
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve_file
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
        self._checkers: dict[tuple[str, int, str | None], Checker] = {}

    def order(self, path: str) -> TeachingOrder:
        """A progression, read once. Raises UserError with all its mistakes."""
        if path not in self._orders:
            self._orders[path] = load(path)
        return self._orders[path]

    def settings(self, path: str) -> tuple[TeachingOrder, int, Config | None]:
        """The teaching order and the step for a text: as given, else from the nearest configuration; and that configuration.

        Raises UserError where no progression is known.
        """
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
        return order, choose_step(order, wanted), config

    def check(self, path: str, *, every_word: bool = False) -> CheckedText:
        """The report on one text (`-`: standard input). Raises UserError where it cannot be read."""
        order, step, config = self.settings(path)
        source = read_text(path)
        if not source.text.strip():
            raise UserError(Problem(source.path, "This text is empty.", "Put the text in, or leave the file out."))
        by_hand = config.sense_of(Path(path)) if config and path != "-" else None
        pipeline = config.pipeline if config else None
        return CheckedText(
            self._checker(order, step, pipeline).check(source, every_word=every_word, settled=by_hand), order
        )

    def check_source(
        self, source: SourceText, order: TeachingOrder, step: int, *, every_word: bool = False
    ) -> TextReport:
        """The report on a text that is already read."""
        return self._checker(order, step, None).check(source, every_word=every_word)

    def _checker(self, order: TeachingOrder, step: int, pipeline: str | None) -> Checker:
        key = (order.path, step, pipeline)
        if key not in self._checkers:
            self._checkers[key] = Checker(Judge(order, step), tagger(pipeline) if pipeline else None)
        return self._checkers[key]

    def by_accent(self, path: str, source: SourceText) -> dict[str, dict[str, str]]:
        """Status by accent of every distinct word whose status is not the same in all accents.

        The progression is read as if it named each accent in turn.
        """
        order, step, _ = self.settings(path)
        found: dict[str, dict[str, str]] = {}
        for accent in ACCENTS:
            other, problems = resolve_file(order.path, accent)
            # a grapheme named by a word may be named twice in an accent that merges its sounds: that is no mistake here
            if any(not p.note and "is taught twice" not in p.what for p in problems):
                raise UserError(*(p for p in problems if not p.note and "is taught twice" not in p.what))
            report = Checker(Judge(other, step)).check(source)
            for word, verdict in report.distinct.items():
                found.setdefault(word, {})[accent] = verdict.status
        return {w: s for w, s in sorted(found.items()) if len(s) == len(ACCENTS) and len(set(s.values())) > 1}

    def check_all(self, paths: Sequence[str], *, every_word: bool = False) -> Iterator[CheckedText | UserError]:
        """Reports on all texts under the paths, in order; a text that cannot be checked gives its error instead.

        Raises UserError at once for paths that are not there.
        """
        for path in find_texts(paths):
            try:
                yield self.check(path, every_word=every_word)
            except UserError as error:
                yield error
