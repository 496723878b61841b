"""Checks texts: what is read and worked out once is kept from text to text."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from decodecheck.bounds import leads_out, real
from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.documents.document import Document
from decodecheck.documents.reading import read_document
from decodecheck.documents.tagging import tagger
from decodecheck.errors import Problem, UserError
from decodecheck.insight.compare import Comparison, TextChange, compare, text_change
from decodecheck.judging.judge import judge_at
from decodecheck.judging.verdict import ALLOWED, UNSURE
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
from decodecheck.run import Failure, Run, guarded
from decodecheck.source import linked_out

State = tuple[int, int, int] | None
"""What changes when a file does; None where there is none."""


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


class Session:
    """Checks texts; progressions and what is known of words are kept from text to text, until a file changes.

    `progression`, `step` and `group` hold for all texts where they are given. `folder` is where the configuration of standard
    input, and of texts that are given as strings, is looked for.
    Raises UserError where a step and a group are given.
    """

    def __init__(
        self,
        progression: str | None = None,
        step: str | None = None,
        group: str | None = None,
        folder: str | Path = ".",
    ) -> None:
        if step is not None and group is not None:
            raise UserError(Problem("--group", "A group has a step of its own.", "Leave --step or --group out."))
        self.progression = progression
        self.step = step
        self.group = group
        self.folder = Path(folder)
        self.notes: dict[str, Problem] = {}
        """Clauses of step expressions that change nothing, by the text of the note."""
        self.left_out = ""
        """What searched folders hold beside texts, in a sentence."""
        self._read: dict[str, None] = {}
        self._configs: dict[Path, Config] = {}
        self._nearest: dict[Path, Config | None] | None = None
        """During a run, the configuration of each folder."""
        self._settled: dict[tuple[Path, Settled], bool] = {}
        self._orders: dict[str, tuple[TeachingOrder, dict[str, State]]] = {}
        self._standings: dict[tuple[int, Wanted | None], Standing] = {}
        self._accents: dict[tuple[int, str], TeachingOrder] = {}
        self._checkers: dict[tuple[int, int, str | None], Checker] = {}

    def order(self, path: str) -> TeachingOrder:
        """A progression; it is read again only when one of its files has changed. Raises UserError with all its mistakes."""
        known = self._orders.get(path)
        if known and (path == "-" or all(_state(file) == state for file, state in known[1].items())):
            return known[0]
        order = load(path)
        files = [path] if path == "-" else list(order.sources)
        self._orders[path] = order, {file: _state(file) for file in files}
        self._read |= dict.fromkeys((path, *order.sources))
        return order

    def inputs(self) -> list[str]:
        """Every file that was read so far: progressions with what they include, configurations, texts."""
        return [*self._read, *map(str, self._configs)]

    def _config(self, start: Path) -> Config | None:
        folder = start.parent
        if self._nearest is not None and folder in self._nearest:
            return self._nearest[folder]
        config = find_config(start)
        if config:
            self._configs[config.path] = config
        if self._nearest is not None and not start.is_dir():
            self._nearest[folder] = config
        return config

    def settings(self, path: str) -> tuple[Standing, Config | None]:
        """Where the readers of a text stand: as given, else by the nearest configuration; and that configuration.

        Raises UserError where no progression is known.
        """
        config = self._config(self.folder if path == "-" else Path(path))
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
        order = self.order(progression)
        key = id(order), wanted
        if key not in self._standings:
            self._standings[key] = choose_step(order, wanted)
            self.notes |= {note.text(): note for note in self._standings[key].notes}
        return self._standings[key]

    def check(self, path: str, *, every_word: bool = False) -> TextReport:
        """The report on one text (`-`: standard input). Raises UserError where it cannot be read."""
        standing, config = self.settings(path)
        return self._report(self._document(path), standing, config, path, every_word)

    def check_text(self, text: str, name: str = "text", *, every_word: bool = False) -> TextReport:
        """The report on a text that is given as a string. Raises UserError where no progression is known, or it is empty."""
        standing, config = self.settings("-")
        return self._report(_not_empty(Document(name, text)), standing, config, "-", every_word)

    def _report(
        self, document: Document, standing: Standing, config: Config | None, path: str, every_word: bool
    ) -> TextReport:
        by_hand = config.sense_of(Path(path)) if config and path != "-" else None
        checker = self._checker(standing, config.pipeline if config else None)
        report = checker.check(document, every_word=every_word, settled=by_hand)
        if config and path != "-":
            report.settled_as = config.named(Path(path))
            self._note_settled(config, document)
        elif path != "-":
            report.settled_as = Path(path).name
        return report

    def _document(self, path: str) -> Document:
        """A text that is to be checked. Raises UserError where it cannot be read, or is empty."""
        self._read[path] = None
        if path != "-" and leads_out(path):
            raise UserError(linked_out(path))
        return _not_empty(read_document(path))

    def _note_settled(self, config: Config, document: Document) -> None:
        """Remember which [[settled]] tables have found their word."""
        name = config.named(Path(document.path)) if config.settled else ""
        for settled in config.settled:
            if config.fit(settled, [name]):
                found = self._settled.get((config.path, settled), False)
                self._settled[config.path, settled] = found or holds(document, settled)

    def _checker(self, standing: Standing, pipeline: str | None) -> Checker:
        key = id(standing.order), standing.step, pipeline
        if key not in self._checkers:
            judge = judge_at(standing.order, standing.step)
            self._checkers[key] = Checker(judge, tagger(pipeline) if pipeline else None)
        return self._checkers[key]

    def by_accent(self, path: str, document: Document) -> dict[str, dict[str, str]]:
        """Status by accent of every distinct word whose status is not the same in all accents.

        The progression is read as if it named each accent in turn.
        """
        standing, config = self.settings(path)
        wanted = self._wanted(path, config)
        found: dict[str, dict[str, str]] = {}
        for accent in ACCENTS:
            there = choose_step(self._in_accent(standing.order, accent), wanted)
            report = self._checker(there, None).check(document)
            for word, verdict in report.distinct.items():
                found.setdefault(word, {})[accent] = verdict.status
        return {w: s for w, s in sorted(found.items()) if len(s) == len(ACCENTS) and len(set(s.values())) > 1}

    def _in_accent(self, order: TeachingOrder, accent: str) -> TeachingOrder:
        """A progression read as if it named an accent. Raises UserError where it cannot be."""
        key = id(order), accent
        if key not in self._accents:
            other, problems = resolve("\n".join(order.sources[order.path]), order.path, accent)
            if any(not p.note for p in problems):
                raise UserError(*(p for p in problems if not p.note))
            self._accents[key] = other
        return self._accents[key]

    def all_by_accent(self, paths: Sequence[str]) -> Iterator[tuple[str, dict[str, dict[str, str]]] | Failure]:
        """`by_accent` of all texts under the paths, in order, each with its path; failures for what cannot be read."""
        failures: list[Failure] = []
        found = self._found(paths, failures)
        yield from failures
        for path in found.texts:
            verdicts = guarded(path, partial(self._by_accent, path))
            yield verdicts if isinstance(verdicts, Failure) else (path, verdicts)

    def _by_accent(self, path: str) -> dict[str, dict[str, str]]:
        return self.by_accent(path, self._document(path))

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
        document = self._document(path)
        settled = config.sense_of(Path(path)) if config else None
        pipeline = config.pipeline if config else None
        reports = [self._checker(s, pipeline).check(document, settled=settled) for s in (then, now)]
        return text_change(*reports)

    def word_counts(self, folder: str, order: TeachingOrder) -> Counted:
        """How often each word that is judged occurs in the texts of a folder, by plain spelling; names left out."""
        result = Counted()
        judge = judge_at(order, order.last)
        checker = Checker(judge)
        for path in self._found([folder], result.failures).texts:
            report = guarded(path, partial(self._by_checker, checker, path))
            if isinstance(report, Failure):
                result.failures.append(report)
                continue
            for word, times in report.running.items():
                known = report.distinct[word]
                if known.status not in (ALLOWED, UNSURE) and not judge.is_name(known.form):
                    result.words[word] += times
        return result

    def readers(self, report: TextReport) -> list[str]:
        """The groups of the text's configuration that can read it; none where it has no groups.

        Raises UserError for a group whose step is wrong.
        """
        config = self._config(Path(report.path)) if report.settled_as else None
        found = []
        for name, wanted in config.groups.items() if config else ():
            standing = self.standing(report.order.path, wanted)
            if not self._checker(standing, config.pipeline if config else None).check(report.document).errors:
                found.append(name)
        return found

    def _by_checker(self, checker: Checker, path: str) -> TextReport:
        return checker.check(self._document(path))

    def run(self, paths: Sequence[str], *, every_word: bool = False) -> Run:
        """A run over all texts under the paths, in order. Its reports are made one by one, as they are asked for.

        Its failures are paths that are not there, texts that cannot be checked, configurations whose tables fit nothing.
        """
        run = Run(())
        found = self._found(paths, run.failures)
        run.texts = len(found.texts)
        run.results = self._results(found, every_word, run)
        return run

    def _results(self, found: FoundTexts, every_word: bool, run: Run) -> Iterator[TextReport]:
        self._nearest = {}
        try:
            for path in found.texts:
                report = guarded(path, partial(self.check, path, every_word=every_word))
                if isinstance(report, Failure):
                    run.failures.append(report)
                else:
                    yield report
        finally:
            self._nearest = None
        told = {str(failure.error) for failure in run.failures}
        run.failures += (f for f in self._meaningless(found) if str(f.error) not in told)
        run.notes += [*self.notes, *([self.left_out] if self.left_out else [])]

    def _found(self, paths: Sequence[str], failures: list[Failure]) -> FoundTexts:
        """The texts under the paths; what is wrong with the paths is added to the failures."""
        found = find_texts(paths)
        failures += [Failure(path, (problem,)) for path, problem in found.problems]
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
                yield Failure(config.name, (idle,), is_text=False)
        for (where, settled), holding in self._settled.items():
            config = self._configs[where]
            problem: Problem | None = senseless(config, settled, self._senses)
            if problem is None and not holding and (where in searched or not WILD.search(settled.pattern)):
                problem = wordless(config, settled)
            if problem:
                yield Failure(config.name, (problem,), is_text=False)

    def _senses(self, word: str) -> list[str]:
        """The senses of a word that differ in sound, in the accents of this check."""
        known = [checker.senses for checker in self._checkers.values()]
        return list(dict.fromkeys(choice.label for senses in known for choice in senses.choices(word)))


def _not_empty(document: Document) -> Document:
    """A document with something in it. Raises UserError for an empty one."""
    if not document.text.strip():
        raise UserError(Problem(document.path, "This text is empty.", "Put the text in, or leave the file out."))
    return document


def _state(path: str) -> State:
    """What changes when a file does."""
    try:
        status = Path(path).stat()
    except (OSError, ValueError):
        return None
    return status.st_mtime_ns, status.st_size, status.st_ino
