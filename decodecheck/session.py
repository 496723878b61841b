"""Checks texts: what is read and worked out once is kept from text to text."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from decodecheck.bounds import leads_out, real
from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.checking.treated import treated
from decodecheck.checking.treatment import Treatment
from decodecheck.documents.document import Document
from decodecheck.documents.reading import read_document, suffixes
from decodecheck.documents.tagging import tagger
from decodecheck.errors import Problem, UserError, count
from decodecheck.governing import Governing
from decodecheck.judging.judge import judge_at
from decodecheck.lists.document import words_of
from decodecheck.lists.header import NO_WORDS
from decodecheck.lists.reading import ListFile, is_table, read_list
from decodecheck.lists.report import ListReport, report_on
from decodecheck.progression.step_expression import Standing
from decodecheck.project.config import Config, read_config
from decodecheck.project.discover import FoundTexts, find_texts
from decodecheck.project.fitting import list_rule
from decodecheck.project.idle import Idle
from decodecheck.project.list_files import ANY_LIST, AS_THEY_ARE, Lists, asked_of, mend_in_place
from decodecheck.project.looked_at import State, state_of
from decodecheck.project.rules import ListRule
from decodecheck.project.taking_out import take_out_in_place
from decodecheck.project.treating import allowed_by, treatment_of
from decodecheck.run import Failure, Report, Run, guarded
from decodecheck.source import linked_out, shown

MOST_NAMED = 4
Narrow = Callable[[FoundTexts, list[Failure]], None]
"""Takes texts out of those that were found; adds to what could not be checked, or takes from it."""


class Session(Governing):
    """Checks texts; progressions and what is known of words are kept from text to text, until a file changes.

    `progression`, `step` and `group` hold for all texts where they are given, `lists` for all word lists; kinds of findings in `warn` are only
    warnings. `folder` is where the configuration of standard input, and of texts that are given as strings, is looked for; with `stdin_name`,
    standard input is read and configured as the file of that name would be. With `respect_exclude`, what a configuration or .gitignore leaves out
    is left out although it was named.
    Raises UserError where a step and a group are given.
    """

    def __init__(
        self,
        progression: str | None = None,
        step: str | None = None,
        group: str | None = None,
        folder: str | Path = ".",
        warn: Iterable[str] = (),
        lists: Lists = AS_THEY_ARE,
        stdin_name: str | None = None,
        respect_exclude: bool = False,
    ) -> None:
        super().__init__(progression, step, group, folder)
        self.warn = frozenset(warn)
        self.lists = lists
        self.stdin_name = stdin_name
        self.respect_exclude = respect_exclude
        self.deciding: list[str] = []
        """Files besides those that are read that decide on what is said."""
        self.known: list[str] = []
        """Files that are no texts and are known for what they are, such as a baseline."""
        self.left_out = ""
        """What searched folders hold beside texts, in a sentence."""
        self.mended: list[str] = []
        """What was mended in word lists, and what was left as it is, a sentence each."""
        self._searched: list[str] = []
        self._idle = Idle()
        self._checkers: dict[tuple[int, int, str | None], Checker] = {}

    def inputs(self) -> list[str]:
        """Every file that was read so far: progressions with what they include, configurations, texts."""
        return [*self._read, *map(str, self._configs)]

    def looked_at(self) -> dict[str, State] | None:
        """Every file whose content may decide on what was said, as it was when it was read (None: not known); None where something decides that is no file, as
        a pipeline that lies in a folder."""
        if any(config.pipeline and os.path.lexists(config.pipeline) for config in self._configs.values()):
            return None
        return dict.fromkeys([*self._searched, *self.deciding, *map(str, self._configs)]) | self._read

    def check(self, path: str, *, every_word: bool = False) -> Report:
        """The report on one text or word list (`-`: standard input). Raises UserError where it cannot be read."""
        meant = self.meant(path)
        rule = self.list_rule(meant)
        if rule is not None:
            # a table that is no list needs no step
            return self._list_report(path, self._list_file(path, rule), rule, every_word)
        self.progression_for(meant)
        document = self.document(path)
        standing, config = self.settings(meant, document.own_step)
        report = self._report(document, standing, config, meant, every_word)
        if self.lists.fix and report.idle:
            changed, told = take_out_in_place(path, report.idle)
            self.mended.append(told)
            if changed:
                return self._report(self.document(path), standing, config, meant, every_word)
        return report

    def meant(self, path: str) -> str:
        """The file that a path stands for: standard input may have the name of one."""
        return self.stdin_name if path == "-" and self.stdin_name else path

    def is_list(self, path: str) -> bool:
        """Whether a file is checked as a word list."""
        return self.list_rule(self.meant(path)) is not None

    def check_story(self, path: str, *, every_word: bool = False) -> TextReport:
        """The report on one text. Raises UserError where it cannot be read, and for a word list."""
        report = self.check(path, every_word=every_word)
        if isinstance(report, ListReport):
            what = "This is a word list, and no text to be read with a child."
            raise UserError(
                Problem(report.path, what, "`decodecheck check` looks at lists, `decodecheck sheet` prints them.")
            )
        return report

    def list_rule(self, meant: str) -> ListRule | None:
        """What holds for a word list; None for a text. A table is a list; another file is one where that is asked for."""
        config = self.config(meant) if meant != "-" else None
        rule = list_rule(config, Path(meant)) if config else None
        return ANY_LIST if rule is None and (self.lists.all or is_table(meant)) else rule

    def _list_report(self, path: str, file: ListFile, rule: ListRule, every_word: bool) -> ListReport:
        meant = self.meant(path)
        standing, config = self.settings(meant)
        asked = asked_of(standing.order, rule, config, ordered=self.lists.ordered, given=self.lists.target)
        if self.lists.fix:
            changed, told = mend_in_place(path, file, standing, asked)
            self.mended += told
            file = self._list_file(path, rule) if changed else file
        by_hand = config.sense_of(Path(meant)) if config and meant != "-" else None

        def checker_at(step: int) -> Checker:
            return self.checker(replace(standing, step=step), config.pipeline if config else None)

        report = report_on(file, standing, asked, checker_at, every_word=every_word, settled=by_hand)
        report.treat(self.treatment(config, meant, None, is_list=True))
        self._idle.allowed(config, meant, report.used)
        if config and meant != "-":
            report.settled_as = config.named(Path(meant))
            self._idle.settled(config, report.document)
        return report

    def _list_file(self, path: str, rule: ListRule) -> ListFile:
        self._read[path] = state_of(path)
        if path != "-" and leads_out(path):
            raise UserError(linked_out(path))
        try:
            return read_list(path, rule.columns, self.meant(path))
        except UserError as error:
            if rule is ANY_LIST:
                raise
            # what is said to be a list is never passed over
            raise UserError(*(replace(problem, code="") for problem in error.problems)) from None

    def check_text(self, text: str, name: str = "text", *, every_word: bool = False) -> TextReport:
        """The report on a text that is given as a string. Raises UserError where no progression is known, or it is empty."""
        standing, config = self.settings("-")
        return self._report(_not_empty(Document(name, text)), standing, config, "-", every_word)

    def _report(
        self, document: Document, standing: Standing, config: Config | None, path: str, every_word: bool
    ) -> TextReport:
        by_hand = config.sense_of(Path(path)) if config and path != "-" else None
        checker = self.checker(standing, config.pipeline if config else None)
        report = checker.check(document, every_word=every_word, settled=by_hand)
        report = treated(report, self.treatment(config, path, document))
        self._idle.allowed(config, path, report.used)
        if config and path != "-":
            report.settled_as = config.named(Path(path))
            self._idle.settled(config, document)
        elif path != "-":
            report.settled_as = Path(path).name
        return report

    def treatment(
        self, config: Config | None, path: str, document: Document | None, *, is_list: bool = False
    ) -> Treatment:
        """How the findings on a file are treated. Raises UserError where the text allows what there is not."""
        where = Path(path) if config and path != "-" else None
        allowed = allowed_by(config, where) if config and where else []
        own = document.own_step if document else None
        tried = self.tries_out(config, own)
        return treatment_of(config, where, allowed, self.warn, is_list=is_list, document=document, idle_told=not tried)

    def document(self, path: str) -> Document:
        """A text that is to be checked; of word lists, their words. Raises UserError where it cannot be read, or is empty."""
        rule = self.list_rule(self.meant(path))
        if rule is not None:
            return words_of(self._list_file(path, rule).lists)
        self._read[path] = state_of(path)
        if path != "-" and leads_out(path):
            raise UserError(linked_out(path))
        meant = self.meant(path)
        config = self.config(self.folder if meant == "-" else meant)
        return _not_empty(read_document(path, meant, alt_text=config is not None and config.alt_text))

    def checker(self, standing: Standing, pipeline: str | None) -> Checker:
        """Checks texts for readers who stand there, with a spaCy pipeline if one is named; what it has learnt is kept."""
        key = id(standing.order), standing.step, pipeline
        if key not in self._checkers:
            judge = judge_at(standing.order, standing.step)
            self._checkers[key] = Checker(judge, tagger(pipeline) if pipeline else None)
        return self._checkers[key]

    def readers(self, report: Report) -> list[str]:
        """The groups of the text's configuration that can read it; none where it has no groups.

        Raises UserError for a group whose step is wrong.
        """
        config = self.config(report.path) if report.settled_as else None
        found = []
        for name, wanted in config.groups.items() if config else ():
            standing = self.standing(report.order.path, wanted, config.accent if config else None)
            there = self.checker(standing, config.pipeline if config else None).check(report.document)
            if not treated(there, report.treatment).errors:
                found.append(name)
        return found

    def run(self, paths: Sequence[str], *, every_word: bool = False, narrow: Narrow | None = None) -> Run:
        """A run over all texts under the paths, in order, or over those that `narrow` leaves. Its reports are made one by one, as they are
        asked for.

        Its failures are paths that are not there, texts that cannot be checked, configurations whose tables fit nothing.
        """
        run = Run(())
        found = self.found(paths, run.failures)
        if narrow:
            narrow(found, run.failures)
        run.texts = len(found.texts)
        run.results = self._results(found, every_word, run)
        return run

    def _results(self, found: FoundTexts, every_word: bool, run: Run) -> Iterator[Report]:
        self.begin_run()
        tables: list[str] = []
        try:
            for path in found.texts:
                report = guarded(self.meant(path), partial(self.check, path, every_word=every_word))
                if not isinstance(report, Failure):
                    if isinstance(report, ListReport) and report.problems:
                        run.failures.append(Failure(self.meant(path), report.problems, is_text=False))
                    yield report
                elif passed_over(found, report):
                    tables.append(path)
                else:
                    run.failures.append(report)
        finally:
            self.end_run()
        told = {str(failure.error) for failure in run.failures}
        run.failures += [f for f in self._meaningless(found, told) if str(f.error) not in told]
        run.notes += [*self.notes, *([self.left_out] if self.left_out else [])]
        if tables:
            named = ", ".join(map(shown, tables[:MOST_NAMED])) + (", ..." if len(tables) > MOST_NAMED else "")
            was = "was" if len(tables) == 1 else "were"
            run.notes.append(f"{count(len(tables), 'table')} without a column of words {was} passed over: {named}.")

    def found(self, paths: Sequence[str], failures: list[Failure]) -> FoundTexts:
        """The texts under the paths; what is wrong with the paths is added to the failures."""
        found = find_texts(paths, respect_exclude=self.respect_exclude)
        failures += [Failure(path, (problem,)) for path, problem in found.problems]
        failures += [Failure(path, (problem,), is_text=False) for path, problem in found.leaving_out.problems]
        for path in self.known:
            found.is_known(path)
        self.left_out = found.left_out()
        # pages that decodecheck wrote are told by what they hold
        self._searched += [path for path in found.seen if path.lower().endswith(suffixes())]
        return found

    def _meaningless(self, found: FoundTexts, told: Collection[str]) -> Iterator[Failure]:
        """What in the configurations means nothing: patterns without a file, settled senses and allowances without their word; `told` is
        what could not be checked."""
        searched: set[Path] = set()
        for path in found.configurations:
            config = guarded(path, partial(read_config, str(real(path)), may_lack=True))
            if config is None or isinstance(config, Failure):
                yield from [config] if config else []
                continue
            searched.add(config.path)
            self._configs[config.path] = config
            # what is tried out at another step, and what could not be read, says nothing of words
            words = not (told or self.step or self.group or self.progression or found.narrowed)
            for idle in self._idle.of_folder(config, found.seen, words=words):
                yield Failure(config.name, (idle,), is_text=False)
        for config, problem in self._idle.of_words(self._configs, searched, self._senses, narrowed=found.narrowed):
            yield Failure(config.name, (problem,), is_text=False)

    def _senses(self, word: str) -> list[str]:
        """The senses of a word that differ in sound, in the accents of this check."""
        known = [checker.senses for checker in self._checkers.values()]
        return list(dict.fromkeys(choice.label for senses in known for choice in senses.choices(word)))


def passed_over(found: FoundTexts, failure: Failure) -> bool:
    """Whether what could not be checked is a table in a searched folder that is no word list."""
    return failure.path in found.inside and failure.problem.code == NO_WORDS


def _not_empty(document: Document) -> Document:
    """A document with something in it. Raises UserError for an empty one."""
    if not document.text.strip():
        raise UserError(Problem(document.path, "This text is empty.", "Put the text in, or leave the file out."))
    return document
