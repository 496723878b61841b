"""The one door for everything below: check texts, explain words, as plain Python objects."""

from __future__ import annotations

import os
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TypeVar

from decodecheck.bounds import leads_out, real
from decodecheck.checking.check import Checker
from decodecheck.checking.judge import Judge
from decodecheck.checking.report import TextReport
from decodecheck.checking.verdict import ALLOWED, UNSURE
from decodecheck.documents.tagging import tagger
from decodecheck.errors import TRACEBACK, Problem, UserError
from decodecheck.insight.compare import Comparison, TextChange, compare, text_change
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve
from decodecheck.progression.step_expression import Standing, Wanted, choose_step, renumbered
from decodecheck.project.config import Config, Settled, find_config, read_config
from decodecheck.project.discover import FoundTexts, find_texts
from decodecheck.project.fitting import (
    WILD,
    holds,
    idle_patterns,
    progression_of,
    senseless,
    step_for,
    wordless,
)
from decodecheck.source import SourceText, linked_out, read_text, shown


@dataclass(frozen=True)
class CheckedText:
    """A report with the teaching order it was made against."""

    report: TextReport
    order: TeachingOrder


@dataclass(frozen=True)
class Failure:
    """Something that could not be checked: its path as it was given or found, and why. `is_text` is false of a table of a
    configuration, which takes no text away."""

    path: str
    error: UserError
    is_text: bool = True

    @property
    def problem(self) -> Problem:
        """What is said of it first."""
        return self.error.problems[0]


@dataclass
class Compared:
    """A comparison of two progressions, and of the texts of a folder: those whose verdict changes, what could not be checked,
    how many were compared."""

    comparison: Comparison
    changes: list[TextChange] = field(default_factory=list)
    failures: list[Failure] = field(default_factory=list)
    compared: int = 0
    elsewhere: int = 0
    """Texts of the folder that follow another progression, and were left out."""


@dataclass
class Counted:
    """How often words occur in the texts of a folder, and what could not be counted."""

    words: Counter[str] = field(default_factory=Counter)
    failures: list[Failure] = field(default_factory=list)


Result = TypeVar("Result")


def guarded(path: str, work: Callable[[], Result]) -> Result | Failure:
    """What `work` on a text gives; a failure where it cannot be done, also where the fault is the program's own."""
    try:
        return work()
    except UserError as error:
        return Failure(path, error)
    except Exception as error:
        if os.environ.get(TRACEBACK):
            traceback.print_exc()
        what = (
            f"decodecheck failed on this text ({type(error).__name__}: {error}). The fault is the program's, not yours."
        )
        todo = f"Please report it, with the text and what {TRACEBACK}=1 prints."
        return Failure(path, UserError(Problem(shown(path), " ".join(what.split()), todo)))


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
        self.left_out = ""
        """What searched folders hold beside texts, in a sentence."""
        self._read: dict[str, None] = {}
        self._configs: dict[Path, Config] = {}
        self._settled: dict[tuple[Path, Settled], bool] = {}
        self._orders: dict[str, TeachingOrder] = {}
        self._standings: dict[tuple[str, Wanted | None], Standing] = {}
        self._checkers: dict[tuple[str, str, int, str | None], Checker] = {}

    def order(self, path: str) -> TeachingOrder:
        """A progression, read once. Raises UserError with all its mistakes."""
        if path not in self._orders:
            order = self._orders[path] = load(path)
            self._read |= dict.fromkeys((path, *order.sources))
        return self._orders[path]

    def inputs(self) -> list[str]:
        """Every file that was read so far: progressions with what they include, configurations, texts."""
        return [*self._read, *map(str, self._configs)]

    def _config(self, start: Path) -> Config | None:
        config = find_config(start)
        if config:
            self._configs[config.path] = config
        return config

    def settings(self, path: str) -> tuple[Standing, Config | None]:
        """Where the readers of a text stand: as given, else by the nearest configuration; and that configuration.

        Raises UserError where no progression is known.
        """
        config = self._config(Path.cwd() if path == "-" else Path(path))
        where = self.progression or (progression_of(config) if config else None)
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
        return step_for(config, Path(path))

    def for_progression(self, path: str) -> Standing:
        """Where a group stands in a progression file named outright; its groups are looked up beside it.

        Raises UserError.
        """
        config = self._config(Path(path)) if self.group is not None else None
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
        source = self._text(path)
        by_hand = config.sense_of(Path(path)) if config and path != "-" else None
        pipeline = config.pipeline if config else None
        checker = self._checker(standing.order, standing.step, pipeline)
        report = checker.check(source, every_word=every_word, settled=by_hand)
        if config and path != "-":
            report.settled_as = config.named(Path(path))
            self._note_settled(config, source)
        elif path != "-":
            report.settled_as = Path(path).name
        return CheckedText(report, standing.order)

    def _text(self, path: str) -> SourceText:
        """A text that is to be checked. Raises UserError where it cannot be read, or is empty."""
        self._read[path] = None
        if path != "-" and leads_out(path):
            raise UserError(linked_out(path))
        source = read_text(path)
        if not source.text.strip():
            raise UserError(Problem(source.path, "This text is empty.", "Put the text in, or leave the file out."))
        return source

    def _note_settled(self, config: Config, source: SourceText) -> None:
        """Remember which [[settled]] tables have found their word."""
        name = config.named(Path(source.path))
        for settled in config.settled:
            if config.fit(settled, [name]):
                found = self._settled.get((config.path, settled), False)
                self._settled[config.path, settled] = found or holds(source, settled)

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
        text = "\n".join(order.sources[order.path])
        found: dict[str, dict[str, str]] = {}
        for accent in ACCENTS:
            other, problems = resolve(text, order.path, accent)
            if any(not p.note for p in problems):
                raise UserError(*(p for p in problems if not p.note))
            there = choose_step(other, wanted)
            report = Checker(Judge(there.order, there.step)).check(source)
            for word, verdict in report.distinct.items():
                found.setdefault(word, {})[accent] = verdict.status
        return {w: s for w, s in sorted(found.items()) if len(s) == len(ACCENTS) and len(set(s.values())) > 1}

    def all_by_accent(self, paths: Sequence[str]) -> Iterator[tuple[str, dict[str, dict[str, str]]] | Failure]:
        """`by_accent` of all texts under the paths, in order, each with its path; failures for what cannot be read."""
        failures: list[Failure] = []
        found = self._found(paths, failures)
        yield from failures
        for path in found.texts:
            verdicts = guarded(path, partial(self._by_accent, path))
            yield verdicts if isinstance(verdicts, Failure) else (path, verdicts)

    def _by_accent(self, path: str) -> dict[str, dict[str, str]]:
        return self.by_accent(path, self._text(path))

    def compare(self, old: str, new: str, folder: str | None = None) -> Compared:
        """What a change of a progression does to its steps, and to the texts of a folder at their declared steps.

        Raises UserError for a progression that is wrong.
        """
        before, after = self.order(old), self.order(new)
        for order in (before, after):
            choose_step(order, None)
        result = Compared(compare(before, after))
        if folder is None:
            return result
        for path in self._governed(list(self._found([folder], result.failures).texts), (old, new), result):
            change = guarded(path, partial(self._text_change, path, result.comparison))
            if isinstance(change, Failure):
                result.failures.append(change)
                continue
            result.compared += 1
            if change:
                result.changes.append(change)
        return result

    def _governed(self, texts: Sequence[str], progressions: Sequence[str], result: Compared) -> Sequence[str]:
        """The texts whose configuration names one of two progressions or none; all of them where none would be left."""
        mine = {real(path) for path in progressions if path != "-"}
        found = []
        for path in texts:
            config = guarded(path, partial(self._config, Path(path)))
            named = config.progression if config and not isinstance(config, Failure) else None
            if named is None or real(named) in mine:
                found.append(path)
        result.elsewhere = len(texts) - len(found) if found else 0
        return found or texts

    def _text_change(self, path: str, c: Comparison) -> TextChange | None:
        config = self._config(Path(path))
        wanted = step_for(config, Path(path)) if config else None
        then = choose_step(c.old, wanted)
        moved = wanted and renumbered(c.old, wanted, c.stands.__getitem__)
        now = choose_step(c.new, moved)
        source = self._text(path)
        settled = config.sense_of(Path(path)) if config else None
        pipeline = config.pipeline if config else None
        reports = [self._checker(s.order, s.step, pipeline).check(source, settled=settled) for s in (then, now)]
        return text_change(*reports)

    def word_counts(self, folder: str, order: TeachingOrder) -> Counted:
        """How often each word that is judged occurs in the texts of a folder, by plain spelling; names left out."""
        result = Counted()
        judge = Judge(order, order.last)
        checker = Checker(judge)
        for path in self._found([folder], result.failures).texts:
            report = guarded(path, partial(self._text_report, checker, path))
            if isinstance(report, Failure):
                result.failures.append(report)
                continue
            for word, times in report.running.items():
                known = report.distinct[word]
                if known.status not in (ALLOWED, UNSURE) and not judge.is_name(known.form):
                    result.words[word] += times
        return result

    def _text_report(self, checker: Checker, path: str) -> TextReport:
        return checker.check(self._text(path))

    def check_all(self, paths: Sequence[str], *, every_word: bool = False) -> Iterator[CheckedText | Failure]:
        """Reports on all texts under the paths, in order, and failures: for a path that is not there, a text that cannot be
        checked, a configuration whose tables fit nothing."""
        failures: list[Failure] = []
        found = self._found(paths, failures)
        yield from failures
        for path in found.texts:
            result = guarded(path, partial(self._whole, path, every_word))
            if isinstance(result, Failure):
                failures.append(result)
            yield result
        told = {str(failure.error) for failure in failures}
        yield from (failure for failure in self._meaningless(found) if str(failure.error) not in told)

    def _whole(self, path: str, every_word: bool) -> CheckedText:
        """A report with its findings made, so that nothing is left to fail later."""
        checked = self.check(path, every_word=every_word)
        _ = checked.report.findings
        return checked

    def _found(self, paths: Sequence[str], failures: list[Failure]) -> FoundTexts:
        """The texts under the paths; what is wrong with the paths is added to the failures."""
        found = find_texts(paths)
        failures += [Failure(path, UserError(problem)) for path, problem in found.problems]
        self.left_out = found.left_out()
        return found

    def _meaningless(self, found: FoundTexts) -> Iterator[Failure]:
        """What in the configurations means nothing: patterns without a file, settled senses without their word."""
        searched: set[Path] = set()
        for path in found.configurations:
            config = guarded(path, partial(read_config, str(real(path))))
            if isinstance(config, Failure):
                yield config
                continue
            searched.add(config.path)
            self._configs[config.path] = config
            for idle in idle_patterns(config, found.seen):
                yield Failure(config.name, UserError(idle), is_text=False)
        for (where, settled), holding in self._settled.items():
            config = self._configs[where]
            problem: Problem | None = senseless(config, settled, self._senses)
            if problem is None and not holding and (where in searched or not WILD.search(settled.pattern)):
                problem = wordless(config, settled)
            if problem:
                yield Failure(config.name, UserError(problem), is_text=False)

    def _senses(self, word: str) -> list[str]:
        """The senses of a word that differ in sound, in the accents of this check."""
        judges = [checker.judge for checker in self._checkers.values()]
        return list(dict.fromkeys(choice.label for judge in judges for choice in judge.choices(word)))
