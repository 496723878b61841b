"""The one door for everything below: check texts, explain words, as plain Python objects."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from decodecheck.checking.check import Checker
from decodecheck.checking.judge import Judge
from decodecheck.checking.report import TextReport
from decodecheck.checking.verdict import ALLOWED, UNSURE
from decodecheck.documents.tagging import tagger
from decodecheck.errors import Problem, UserError
from decodecheck.insight.compare import Comparison, TextChange, compare, text_change
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve_file
from decodecheck.progression.step_expression import Standing, Wanted, choose_step, renumbered
from decodecheck.project.config import Config, find_config
from decodecheck.project.discover import find_texts
from decodecheck.source import SourceText, read_text


@dataclass(frozen=True)
class CheckedText:
    """A report with the teaching order it was made against."""

    report: TextReport
    order: TeachingOrder


class Session:
    """Checks texts; progressions and what is known of words are kept from text to text."""

    def __init__(self, progression: str | None = None, step: str | None = None, group: str | None = None) -> None:
        if step is not None and group is not None:
            raise UserError(Problem("--group", "A group has a step of its own.", "Leave --step or --group out."))
        self.progression = progression
        self.step = step
        self.group = group
        self.notes: dict[str, Problem] = {}
        """Clauses of step expressions that change nothing, by the text of the note."""
        self._orders: dict[str, TeachingOrder] = {}
        self._standings: dict[tuple[str, Wanted | None], Standing] = {}
        self._checkers: dict[tuple[str, str, int, str | None], Checker] = {}

    def order(self, path: str) -> TeachingOrder:
        """A progression, read once. Raises UserError with all its mistakes."""
        if path not in self._orders:
            self._orders[path] = load(path)
        return self._orders[path]

    def settings(self, path: str) -> tuple[Standing, Config | None]:
        """Where the readers of a text stand: as given, else by the nearest configuration; and that configuration.

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
        wanted = self._wanted(path, config)
        if wanted and config and self.progression and self.step is None and self.group is None:
            # another progression is tried out on texts that declare their step for their own
            try:
                return self.standing(where, wanted), config
            except UserError as error:
                order = self.order(where)
                note = (
                    wanted.problem(error.problems[0].what, "So this text is checked at the last step.", note=True)
                    if order.steps
                    else error.problems[0]
                )
                self.notes.setdefault(note.text(), note)
                return self.standing(where, None), config
        return self.standing(where, wanted), config

    def _wanted(self, path: str, config: Config | None) -> Wanted | None:
        if self.step is not None:
            return Wanted(self.step)
        if self.group is not None:
            if config is None:
                todo = "Put a decodecheck.toml with a table [groups] beside the texts, or use --step."
                raise UserError(Problem("--group", "There is no decodecheck.toml to look the group up in.", todo))
            return config.group(self.group)
        if config is None:
            return None
        return config.step if path == "-" else config.step_for(Path(path))

    def for_progression(self, path: str) -> Standing:
        """Where a group stands in a progression file named outright; its groups are looked up beside it.

        Raises UserError.
        """
        config = find_config(Path(path)) if self.group is not None else None
        return self.standing(path, self._wanted(path, config))

    def standing(self, progression: str, wanted: Wanted | None) -> Standing:
        """Where a group stands in a progression; worked out once. Raises UserError."""
        key = (progression, wanted)
        if key not in self._standings:
            self._standings[key] = choose_step(self.order(progression), wanted)
            self.notes |= {note.text(): note for note in self._standings[key].notes}
        return self._standings[key]

    def check(self, path: str, *, every_word: bool = False) -> CheckedText:
        """The report on one text (`-`: standard input). Raises UserError where it cannot be read."""
        standing, config = self.settings(path)
        source = _text(path)
        by_hand = config.sense_of(Path(path)) if config and path != "-" else None
        pipeline = config.pipeline if config else None
        checker = self._checker(standing.order, standing.step, pipeline)
        return CheckedText(checker.check(source, every_word=every_word, settled=by_hand), standing.order)

    def check_source(
        self, source: SourceText, order: TeachingOrder, step: int, *, every_word: bool = False
    ) -> TextReport:
        """The report on a text that is already read."""
        return self._checker(order, step, None).check(source, every_word=every_word)

    def _checker(self, order: TeachingOrder, step: int, pipeline: str | None) -> Checker:
        key = (order.path, order.variant, step, pipeline)
        if key not in self._checkers:
            self._checkers[key] = Checker(Judge(order, step), tagger(pipeline) if pipeline else None)
        return self._checkers[key]

    def by_accent(self, path: str, source: SourceText) -> dict[str, dict[str, str]]:
        """Status by accent of every distinct word whose status is not the same in all accents.

        The progression is read as if it named each accent in turn.
        """
        standing, config = self.settings(path)
        order, wanted = standing.order, self._wanted(path, config)
        found: dict[str, dict[str, str]] = {}
        for accent in ACCENTS:
            other, problems = resolve_file(order.path, accent)
            # a grapheme named by a word may be named twice in an accent that merges its sounds: that is no mistake here
            if any(not p.note and "is taught twice" not in p.what for p in problems):
                raise UserError(*(p for p in problems if not p.note and "is taught twice" not in p.what))
            there = choose_step(other, wanted)
            report = Checker(Judge(there.order, there.step)).check(source)
            for word, verdict in report.distinct.items():
                found.setdefault(word, {})[accent] = verdict.status
        return {w: s for w, s in sorted(found.items()) if len(s) == len(ACCENTS) and len(set(s.values())) > 1}

    def compare(self, old: str, new: str, folder: str | None = None) -> tuple[Comparison, list[TextChange | UserError]]:
        """What a change of a progression does to its steps, and to the texts of a folder at their declared steps.

        Only texts whose verdict changes are in the list, and errors of those that cannot be checked. Raises UserError for a
        progression that is wrong, and for a folder that is not there.
        """
        before, after = self.order(old), self.order(new)
        for order in (before, after):
            choose_step(order, None)
        comparison = compare(before, after)
        texts: list[TextChange | UserError] = []
        for path in find_texts([folder]) if folder is not None else ():
            try:
                change = self._text_change(path, comparison)
            except UserError as error:
                texts.append(error)
                continue
            if change:
                texts.append(change)
        return comparison, texts

    def _text_change(self, path: str, c: Comparison) -> TextChange | None:
        config = find_config(Path(path))
        wanted = config.step_for(Path(path)) if config else None
        then = choose_step(c.old, wanted)
        moved = wanted and renumbered(c.old, wanted, c.stands.__getitem__)
        now = choose_step(c.new, moved)
        source = _text(path)
        settled = config.sense_of(Path(path)) if config else None
        pipeline = config.pipeline if config else None
        reports = [self._checker(s.order, s.step, pipeline).check(source, settled=settled) for s in (then, now)]
        return text_change(*reports)

    def word_counts(self, folder: str, order: TeachingOrder) -> Counter[str]:
        """How often each word that is judged occurs in the texts of a folder, by plain spelling; names left out.

        Raises UserError with every text that cannot be read.
        """
        found: Counter[str] = Counter()
        problems: list[Problem] = []
        judge = Judge(order, order.last)
        checker = Checker(judge)
        for path in find_texts([folder]):
            try:
                report = checker.check(read_text(path))
            except UserError as error:
                problems += error.problems
                continue
            for word, times in report.running.items():
                known = report.distinct[word]
                if known.status not in (ALLOWED, UNSURE) and not judge.is_name(known.form):
                    found[word] += times
        if problems:
            raise UserError(*problems)
        return found

    def check_all(self, paths: Sequence[str], *, every_word: bool = False) -> Iterator[CheckedText | UserError]:
        """Reports on all texts under the paths, in order; a text that cannot be checked gives its error instead.

        Raises UserError at once for paths that are not there.
        """
        for path in find_texts(paths):
            try:
                yield self.check(path, every_word=every_word)
            except UserError as error:
                yield error


def _text(path: str) -> SourceText:
    """A text that is to be checked. Raises UserError where it cannot be read, or is empty."""
    source = read_text(path)
    if not source.text.strip():
        raise UserError(Problem(source.path, "This text is empty.", "Put the text in, or leave the file out."))
    return source
