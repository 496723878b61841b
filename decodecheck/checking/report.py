"""What is said of one text: counts, words, findings made when they are asked for."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property

from decodecheck.checking.judge import Judge
from decodecheck.checking.kinds import Context, kinds
from decodecheck.checking.verdict import ALLOWED, BLOCKED, EXCEPTED, STATUSES, Blocker, Verdict
from decodecheck.lexicon import items
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.source import SourceText


@dataclass(frozen=True, slots=True)
class Finding:
    """One occurrence of a word that is not plainly fine. Offsets are into the text; lines and columns 1-based, end exclusive."""

    kind: str
    severity: str
    word: str
    status: str
    start: int
    end: int
    line: int
    column: int
    end_line: int
    end_column: int
    blockers: tuple[Blocker, ...]
    message: str
    remedy: str


@dataclass(frozen=True, slots=True)
class WordAt:
    """One occurrence of any word, with its verdict."""

    word: str
    start: int
    end: int
    verdict: Verdict


Occurrence = tuple[str, str, str]
"""A form as it stands, the sense that its place decided ("" where none did), and its status there."""


@dataclass(frozen=True, slots=True)
class Word:
    """A distinct word of a text, whatever its capitals and senses there: the worst status, the step from which every occurrence
    can be read (NEVER if none), and the form and sense of the occurrence that has this status and comes last."""

    status: str
    first_step: int
    form: str
    sense: str = ""


SettledForm = tuple[str, bool, str]
"""A form with what its place decided: whether it is a name there, and its sense ("" where that is open)."""


@dataclass
class TextReport:
    """Everything that is said of one text.

    `counts` are running words by status; `occurrences` says how often each judged form stands in which sense with which status.
    `sites` are places as (start, end, number of the form) one after another, `forms` numbers the forms. Findings are
    made when they are asked for.
    """

    source: SourceText
    judge: Judge
    every_word: bool = False
    counts: Counter[str] = field(default_factory=Counter)
    occurrences: Counter[Occurrence] = field(default_factory=Counter)
    unjudged: Counter[str] = field(default_factory=Counter)
    sites: array[int] = field(default_factory=lambda: array("Q"), repr=False)
    forms: dict[SettledForm, int] = field(default_factory=dict, repr=False)
    settled_as: str = ""
    """How a decodecheck.toml would name this text, for remedies that are written there; "" where none can."""

    @property
    def step(self) -> int:
        """The step of the check."""
        return self.judge.step

    @property
    def errors(self) -> int:
        """How many running words are blocked."""
        return self.counts[BLOCKED]

    @cached_property
    def findings(self) -> list[Finding]:
        """All findings in the order of the text."""
        return list(self.iter_findings())

    def iter_findings(self) -> Iterator[Finding]:
        """Findings one by one, for texts too large to hold them all."""
        said: dict[int, tuple[Verdict, str, str, str, str]] = {}
        for settled, start, end, number in self._places():
            if number not in said:
                said[number] = self._say(settled)
            verdict, kind, severity, message, remedy = said[number]
            if not kind:
                continue
            if kinds()[kind].by_line:
                _, _, _, message, remedy = self._say(settled, self.source.place(start)[0])
            place, end_place = self.source.place(start), self.source.place(end)
            word = self.source.text[start:end]
            hindrance = _where_they_stand(verdict.blockers, word, settled[0])
            yield Finding(
                kind, severity, word, verdict.status, start, end, *place, *end_place, hindrance, message, remedy
            )  # fmt: skip

    @property
    def words(self) -> Iterator[WordAt]:
        """Every judged word in order, if the check was asked for every word."""
        for settled, start, end, _ in self._places():
            yield WordAt(self.source.text[start:end], start, end, self._verdict(settled))

    def _places(self) -> Iterator[tuple[SettledForm, int, int, int]]:
        forms = list(self.forms)
        sites = self.sites
        for i in range(0, len(sites), 3):
            yield forms[sites[i + 2]], sites[i], sites[i + 1], sites[i + 2]

    def _verdict(self, settled: SettledForm) -> Verdict:
        form, name, sense = settled
        if name and self.judge.order.skip_names:
            return Verdict(ALLOWED, first_step=0)
        return self.judge.judge(form, sense)

    def _say(self, settled: SettledForm, line: int = 0) -> tuple[Verdict, str, str, str, str]:
        form, name, sense = settled
        verdict = self._verdict(settled)
        kind = "unlisted-name" if name and verdict.kind == "unlisted-word" else verdict.kind
        if not kind:
            return verdict, "", "", "", ""
        found = kinds()[kind]
        guess = self.judge.guess(form) if verdict.kind == "unlisted-word" else None
        lone = form == "I" or name or self.judge.is_name(form)
        plain = form if lone else plain_spelling(form).plain
        context = Context(form, self.step, self.judge.order.accent, plain, guess, self.settled_as, line)
        message, remedy = found.say(verdict, context)
        message += self._read_as(form, sense)
        return verdict, kind, found.severity, *self._for_group(form, verdict, message, remedy)

    def _read_as(self, form: str, sense: str) -> str:
        """What the program decided by itself: which word a stretched form is, which sense is meant."""
        spelling = plain_spelling(form)
        word = self.judge.lookup.find(spelling).word
        said = f" Read as “{word}”." if word != spelling.plain and "-" not in word else ""
        return said + (f" By the words around it, this is “{word}” in the sense “{sense}”." if sense else "")

    def _for_group(self, form: str, verdict: Verdict, message: str, remedy: str) -> tuple[str, str]:
        """Message and remedy where an exception of the group, not the progression, is what stands in the way."""
        whole = self._excepted(plain_spelling(form).plain, verdict)
        if whole is not None:
            message += f" The tricky word of step {whole} is left out for this group."
        if whole is None and not any(b.cause == EXCEPTED for b in verdict.blockers):
            return message, remedy
        return message, "Use another word, or take the exception out once the group has been taught."

    def _excepted(self, plain: str, verdict: Verdict) -> int | None:
        """The step of the tricky word, here or as a part of the word, that is left out for this group."""
        excepted = self.judge.order.excepted
        left_out = {item.name: step for item, step in excepted.items() if item.kind == items.TRICKY}
        words = [plain, *(part.word for reading in verdict.readings for part in reading.parts)]
        return next((step for word in words if (step := left_out.get(word)) is not None), None)

    @cached_property
    def distinct(self) -> dict[str, Word]:
        """Every judged word by its plain spelling."""
        found: dict[str, Word] = {}
        for form, sense, status in self.occurrences:
            plain = plain_spelling(form).plain
            old = found.get(plain)
            step = self._first_step(form, sense, status)
            worse = old is None or (STATUSES.index(status), step) > (STATUSES.index(old.status), old.first_step)
            latest = max(step, old.first_step if old else 0)
            if worse or old is None:
                found[plain] = Word(status, latest, form, sense)
            elif latest > old.first_step:
                found[plain] = Word(old.status, latest, old.form, old.sense)
        return found

    def _first_step(self, form: str, sense: str, status: str) -> int:
        if status == ALLOWED:
            return 0
        return self.judge.judge(form, sense).first_step if sense else self.judge.status(form)[1]

    @cached_property
    def running(self) -> Counter[str]:
        """How often each judged word occurs, by its plain spelling."""
        found: Counter[str] = Counter()
        for (form, _, _), times in self.occurrences.items():
            found[plain_spelling(form).plain] += times
        return found

    def distinct_counts(self) -> Counter[str]:
        """Distinct words (not minding capitals) by status."""
        return Counter(w.status for w in self.distinct.values())

    def ready_step(self) -> int | None:
        """The first step at which every judged word can be read; None if no step does it."""
        latest = max((w.first_step for w in self.distinct.values() if w.status != ALLOWED), default=0)
        return None if latest == NEVER else latest

    def holding_back(self) -> list[tuple[str, int]]:
        """Distinct words with their first step, latest first; allowed ones left out."""
        pairs = [(w, found.first_step) for w, found in self.distinct.items() if found.status != ALLOWED]
        return sorted(pairs, key=lambda p: (-p[1], p[0]))


def _where_they_stand(hindrance: tuple[Blocker, ...], word: str, form: str) -> tuple[Blocker, ...]:
    """Blockers with the places of their letters in the word as the text has it: a line end may divide it (bre- ad)."""
    if len(word) == len(form):
        return hindrance
    places: list[int] = []
    for letter in form:
        at = word.find(letter, places[-1] + 1 if places else 0)
        if at < 0:
            return hindrance
        places.append(at)
    return tuple(replace(b, letters=tuple(places[i] for i in b.letters)) for b in hindrance)
