"""What is said of the word lists of a file."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cached_property

from decodecheck.checking.check import Checker
from decodecheck.checking.kinds import ERROR, WARNING
from decodecheck.checking.report import TextReport
from decodecheck.checking.settle import Settle
from decodecheck.checking.treated import treated
from decodecheck.checking.treatment import PLAIN, Silence, Treatment
from decodecheck.checking.values import Finding, WordAt
from decodecheck.errors import Problem
from decodecheck.judging.verdict import BLOCKED, UNSURE
from decodecheck.lists.document import ListDocument, list_document, words_of
from decodecheck.lists.examined import Asked, Examined
from decodecheck.lists.kinds import ListKind, Told, list_kinds
from decodecheck.lists.reading import ListFile
from decodecheck.lists.word_list import Entry
from decodecheck.progression.many import first_of
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.step_expression import Standing

TWO_READINGS, UNDECIDED = "two-readings", "undecided-sense"
TAKE_OUT = "Take it out."
CheckerAt = Callable[[int], Checker]
"""Checks words as a text's are, at a step."""


@dataclass
class ListReport:
    """Everything that is said of the lists of one file, against an order of teaching.

    `step` is that of all entries that name none of their own. `parts` are the reports on the words as on those of texts, one for each step
    that is met in a list; `own` the findings that only lists have. `others` are sheets without a column of words.
    """

    document: ListDocument
    order: TeachingOrder
    step: int
    parts: tuple[TextReport, ...] = ()
    own: tuple[Finding, ...] = ()
    instead: Mapping[int, str] = field(default_factory=dict)
    """What could stand for a blocked word, by where that starts in the document."""
    others: tuple[str, ...] = ()
    unfit: frozenset[int] = frozenset()
    """Where entries start that are unfit for a classroom: nobody is asked to teach them."""
    problems: tuple[Problem, ...] = ()
    """Cells that cannot be used: targets and steps that cannot be meant. Their rows are judged without them."""
    settled_as: str = ""
    accepted: frozenset[tuple[int, str]] = frozenset()
    """Findings that a baseline holds, by where they start and their kind. They are not told; `counts` are of all words."""
    treatment: Treatment = PLAIN
    used: frozenset[int] = frozenset()
    """Which allowances have something to allow, by their number."""

    def __getstate__(self) -> dict[str, object]:
        """The value, without what is worked out from it anew."""
        return {f.name: getattr(self, f.name) for f in fields(self)}

    @property
    def path(self) -> str:
        """The file as messages name it."""
        return self.document.path

    @cached_property
    def counts(self) -> Counter[str]:
        """How many words have each status."""
        return sum((part.counts for part in self.parts), Counter[str]())

    @cached_property
    def unjudged(self) -> Counter[str]:
        """What is not judged."""
        return sum((part.unjudged for part in self.parts), Counter[str]())

    @property
    def errors(self) -> int:
        """How many words are blocked."""
        return self.counts[BLOCKED]

    @cached_property
    def allowed_here(self) -> Counter[str]:
        """How often each word is allowed by hand."""
        return sum((part.allowed_here for part in self.parts), Counter[str]())

    @cached_property
    def _of_words(self) -> list[Finding]:
        """The findings on words as those of texts, without what a baseline holds."""
        twice = {f.start for f in self.own if f.kind == TWO_READINGS}
        return [
            f
            for part in self.parts
            for f in self._placed(part)
            if (f.kind != UNDECIDED or f.start not in twice) and (f.start, f.kind) not in self.accepted
        ]

    @cached_property
    def let_through(self) -> bool:
        """Whether there are blocked words, but no more than the project allows."""
        return 0 < sum(f.severity == ERROR for f in self._of_words) <= self.treatment.allow_blocked

    @cached_property
    def findings(self) -> list[Finding]:
        """All findings, in the order of the rows."""
        words = [replace(f, severity=WARNING) for f in self._of_words] if self.let_through else self._of_words
        own = [f for f in self.own if (f.start, f.kind) not in self.accepted]
        return sorted([*words, *own], key=lambda f: (f.start, f.severity != ERROR))

    @property
    def open_counts(self) -> Counter[str]:
        """How many findings are told, by the status of their words; under "" those that only lists have."""
        if not self.accepted:
            return Counter({BLOCKED: self.counts[BLOCKED], UNSURE: self.counts[UNSURE], "": len(self.own)})
        return Counter(finding.status for finding in self.findings)

    @cached_property
    def severity(self) -> str:
        """The severity of the gravest finding, "" where there is none."""
        severities = {finding.severity for finding in self.findings}
        return ERROR if ERROR in severities else WARNING if severities else ""

    @cached_property
    def to_see_to(self) -> bool:
        """Whether there is anything to tell besides blocked words that the project lets through."""
        return len(self.findings) > (sum(f.status == BLOCKED for f in self.findings) if self.let_through else 0)

    def treat(self, treatment: Treatment) -> None:
        """Treat the findings as a project does, before anybody has asked for them."""
        self.treatment = treatment
        self.parts = tuple(treated(part, replace(treatment, allow_blocked=0)) for part in self.parts)
        silence = Silence(treatment)
        told = [f for f in self.own if not silence.covers(f.word, f.kind, f.start)]
        self.own = tuple(replace(f, severity=treatment.severity(f.kind, f.severity)) for f in told)
        self.used = frozenset(silence.used).union(*(part.used for part in self.parts))

    @property
    def words(self) -> Iterator[WordAt]:
        """Every judged word in the order of the rows, if the check was asked for every word."""
        found = [
            replace(word, start=start, end=start + word.end - word.start)
            for part in self.parts
            for word in part.words
            for start in (self._start(part, word.start),)
        ]
        return iter(sorted(found, key=lambda word: word.start))

    def ready_step(self) -> int | None:
        """The first step at which every word can be read; None if no step does it."""
        steps = [part.ready_step() for part in self.parts]
        return None if None in steps else max([step for step in steps if step is not None], default=0)

    def _placed(self, part: TextReport) -> Iterator[Finding]:
        for finding in part.findings:
            start = self._start(part, finding.start)
            other = self.instead.get(start)
            remedy = TAKE_OUT if start in self.unfit else finding.remedy
            remedy += f" Another word for its place: {other}." if other else ""
            yield replace(finding, start=start, end=start + finding.end - finding.start, remedy=remedy)

    def _start(self, part: TextReport, offset: int) -> int:
        """Where an offset into the words of one step stands among all words."""
        assert isinstance(part.document, ListDocument)
        at = part.document.number(offset)
        entry = part.document.entries[at]
        return self.document.starts[self._number[id(entry)]] + offset - part.document.starts[at]

    @cached_property
    def _number(self) -> dict[int, int]:
        return {id(entry): number for number, entry in enumerate(self.document.entries)}


def report_on(
    file: ListFile,
    standing: Standing,
    asked: Asked,
    checker_at: CheckerAt,
    *,
    every_word: bool = False,
    settled: Settle | None = None,
) -> ListReport:
    """The report on the lists of a file, for readers who stand somewhere. Targets and steps that cannot be meant are among its
    problems."""
    examined = [Examined(word_list, standing, asked, settled) for word_list in file.lists]
    parts: list[TextReport] = []
    for each in examined:
        by_step: dict[int, list[Entry]] = {}
        for entry, step in zip(each.list.entries, each.steps):
            by_step.setdefault(step, []).append(entry)
        for step, entries in by_step.items():
            document = list_document(each.list, entries)
            parts.append(checker_at(step).check(document, every_word=every_word, settled=settled))
    whole = words_of(file.lists)
    report = ListReport(whole, standing.order, standing.step, tuple(parts), others=file.others)
    starts = {id(entry): start for entry, start in zip(whole.entries, whole.starts)}
    report.instead = {
        starts[id(fact.entry)]: other
        for each in examined
        for fact in each.words
        if fact.status == BLOCKED and (other := each.instead_of(fact))
    }
    report.unfit = frozenset(starts[id(fact.entry)] for each in examined for fact in each.facts if fact.unfit)
    report.problems = tuple(first_of([problem for each in examined for problem in each.problems]))
    report.own = tuple(_finding(whole, kind, told, starts) for each in examined for kind, told in _told(each))
    return report


def _told(examined: Examined) -> Iterator[tuple[ListKind, Told]]:
    for kind in list_kinds().values():
        for told in kind.find(examined):
            yield kind, told


def _finding(document: ListDocument, kind: ListKind, told: Told, starts: dict[int, int]) -> Finding:
    word = told.fact.form
    start = starts[id(told.fact.entry)]
    end = start + len(word)
    cell = told.fact.entry.cells[told.column]
    # a cell of a workbook has no column of its own: there it is one of its text
    first = cell.place if cell.place.line else replace(cell.place, column=1)
    places = first, replace(first, column=first.column + len(cell.text))
    return Finding(kind.name, kind.severity, word, "", start, end, *places, (), told.message, told.remedy)
