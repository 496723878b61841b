"""What is said of one text: a value that holds counts, words and places; findings are made from them once, when they are asked for."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, fields, replace
from functools import cached_property, partial
from itertools import islice, repeat

from decodecheck.checking.kinds import ERROR, WARNING, Judged, Kind, kind_of, kinds
from decodecheck.checking.names_here import names_in
from decodecheck.checking.treatment import PLAIN, Silence, Treatment
from decodecheck.checking.values import Entry, Finding, Forms, Occurrence, Told, Word, WordAt, by_word, where_they_stand
from decodecheck.documents.allowance import Allowance
from decodecheck.documents.document import Document, Place, as_toml
from decodecheck.judging.guess import guess
from decodecheck.judging.judge import Judge, judge_at
from decodecheck.judging.verdict import ALLOWED, BLOCKED, EXCEPTED, STATUSES, UNSURE, Verdict
from decodecheck.lexicon import items
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.progression.order import TeachingOrder

IDLE = "idle-allowance"
"""The kind of finding on what allows nothing."""
_TOLD = tuple(map(STATUSES.index, (BLOCKED, UNSURE)))
MOST_GUESSES = 1000
"""So many unknown words of a text are told with what their spelling suggests: it takes a thousandth of a second each."""
MOST_REMEMBERED = 20_000
"""So many forms are kept in mind with what is told of them, from text to text."""


@dataclass
class _Before:
    """What was told of forms in texts before."""

    told: dict[tuple[Entry, bool, str], Told | None] = field(default_factory=dict)


@dataclass
class TextReport:
    """Everything that is said of one text, against an order of teaching at a step.

    `counts` are running words by status, `unjudged` what is not judged; `forms` are the judged forms whose place decides nothing,
    `settled` those of which it does. `entries` are the forms that are told; `starts`, `ends` and `which` (numbers of entries) say
    where, in the order of the text.
    """

    document: Document
    order: TeachingOrder
    step: int
    every_word: bool = False
    counts: Counter[str] = field(default_factory=Counter)
    unjudged: Counter[str] = field(default_factory=Counter)
    forms: Forms = field(default_factory=Forms)
    settled: tuple[Occurrence, ...] = ()
    entries: tuple[Entry, ...] = ()
    starts: array[int] = field(default_factory=lambda: array("I"), repr=False)
    ends: array[int] = field(default_factory=lambda: array("I"), repr=False)
    which: array[int] = field(default_factory=lambda: array("I"), repr=False)
    settled_as: str = ""
    """How a decodecheck.toml would name this text, for remedies that are written there; "" where none can."""
    accepted: frozenset[tuple[int, str]] = frozenset()
    """Findings that a baseline holds, by where they start and their kind. They are not told; `counts` and steps are of all words."""
    treatment: Treatment = PLAIN
    allowed_here: Counter[str] = field(default_factory=Counter)
    """How often each word is allowed by hand, by its plain spelling; they are among the allowed ones of `counts`."""
    used: frozenset[int] = frozenset()
    """Which allowances have something to allow, by their number."""

    def __getstate__(self) -> dict[str, object]:
        """The value, without what is worked out from it anew."""
        return {f.name: getattr(self, f.name) for f in fields(self)}

    @property
    def path(self) -> str:
        """The text as messages name it."""
        return self.document.path

    @property
    def judge(self) -> Judge:
        """Judges forms as this report does."""
        return judge_at(self.order, self.step)

    @cached_property
    def occurrences(self) -> tuple[Occurrence, ...]:
        """Every judged form, with its sense and status."""
        written, plain, ranks, steps, times = self.forms
        statuses = map(STATUSES.__getitem__, ranks)
        return (*map(Occurrence, written, plain, repeat(""), statuses, steps, times), *self.settled)

    @property
    def errors(self) -> int:
        """How many running words are blocked."""
        return self.counts[BLOCKED]

    @cached_property
    def open(self) -> tuple[Occurrence, ...]:
        """The forms that are told: blocked, or to be checked by eye, and not accepted."""
        if not self._taken:
            return tuple(self._to_tell())
        taken = Counter(
            (entry.form, entry.sense, self.verdict(entry).status)
            for entry in (self.entries[self.which[at]] for at in self._taken)
        )
        left = []
        for o in self._to_tell():
            key = o.form, o.sense, o.status
            number = min(o.times, taken[key])
            taken[key] -= number
            left += [o._replace(times=o.times - number)] if number < o.times else []
        return tuple(left)

    def _to_tell(self) -> Iterator[Occurrence]:
        """Those of the occurrences that are blocked, or to be checked by eye."""
        written, plain, ranks, steps, times = self.forms
        for at, rank in enumerate(ranks):
            if rank in _TOLD:
                yield Occurrence(written[at], plain[at], "", STATUSES[rank], steps[at], times[at])
        yield from (o for o in self.settled if o.status in (BLOCKED, UNSURE))

    @cached_property
    def open_counts(self) -> Counter[str]:
        """How many running words are told, by status."""
        found: Counter[str] = Counter()
        for o in self.open:
            found[o.status] += o.times
        return found

    @property
    def sites(self) -> Iterator[tuple[int, int, Entry]]:
        """Where words are told: start, end and form, in the order of the text (with `every_word`, those that are fine, too)."""
        for at, (start, end, number) in enumerate(zip(self.starts, self.ends, self.which)):
            if at not in self._taken:
                yield start, end, self.entries[number]

    @cached_property
    def _taken(self) -> frozenset[int]:
        """The numbers of the sites whose findings are accepted."""
        if not self.accepted:
            return frozenset()
        starts = {start for start, _ in self.accepted}
        kinds: dict[int, str] = {}
        found = []
        for at, (start, number) in enumerate(zip(self.starts, self.which)):
            if start not in starts:
                continue
            if number not in kinds:
                told = self.told(self.entries[number])
                kinds[number] = told.kind.name if told else ""
            if (start, kinds[number]) in self.accepted:
                found.append(at)
        return frozenset(found)

    @property
    def _blocked(self) -> int:
        """How many running words are blocked and not accepted."""
        return self.open_counts[BLOCKED] if self.accepted else self.errors

    @cached_property
    def let_through(self) -> bool:
        """Whether there are blocked words, but no more than the project allows."""
        return self._blocked > 0 and self._failing <= self.treatment.allow_blocked

    @cached_property
    def _failing(self) -> int:
        """How many running words are blocked and told as an error, and not accepted."""
        if not self.treatment.severities:
            return self._blocked
        grave: dict[Entry, bool] = {}
        for entry in self.entries:
            told = self.told(entry)
            grave[entry] = told is not None and told.verdict.status == BLOCKED and self._usual(told.kind) == ERROR
        return sum(grave[entry] for _, _, entry in self.sites)

    @cached_property
    def severity(self) -> str:
        """The severity of the gravest finding, "" where there is none."""
        found = {severity for severity, _ in self._severities}
        return ERROR if ERROR in found else WARNING if found else ""

    @cached_property
    def to_see_to(self) -> bool:
        """Whether there is anything to tell besides blocked words that the project lets through."""
        return any(not let_through for _, let_through in self._severities)

    @cached_property
    def _severities(self) -> set[tuple[str, bool]]:
        """The severities of the findings, each with whether it is that of a blocked word that is let through."""
        if self.accepted:
            return {(f.severity, self.let_through and f.status == BLOCKED) for f in self.findings}
        found = {(finding.severity, False) for finding in self.of_the_text}
        if self.treatment.severities:
            said = [told for told in map(self.told, self.entries) if told]
            grave = [t.verdict.status == BLOCKED and self._usual(t.kind) == ERROR for t in said]
            found |= {(self._severity(t.kind, t.verdict.status), self.let_through and g) for t, g in zip(said, grave)}
            return found
        if self.errors:
            found.add((WARNING if self.let_through else ERROR, self.let_through))
        return found | ({(WARNING, False)} if self.counts[UNSURE] else set())

    def _usual(self, kind: Kind) -> str:
        return self.treatment.severity(kind.name, kind.severity)

    def _severity(self, kind: Kind, status: str = "") -> str:
        usual = self._usual(kind)
        return WARNING if usual == ERROR and status == BLOCKED and self.let_through else usual

    @cached_property
    def findings(self) -> list[Finding]:
        """All findings in the order of the text."""
        found = [*self._of_words(), *self.of_the_text]
        found.sort(key=lambda f: f.start)
        return found

    def _of_words(self) -> Iterator[Finding]:
        text, place, after = self.document.text, self.document.place, self.document.end_place
        said: dict[Entry, Told | None] = {}
        for start, end, entry in self.sites:
            if entry not in said:
                said[entry] = self.told(entry)
            told = said[entry]
            if told is None:
                continue
            here, word = place(start), text[start:end]
            if told.kind.by_place:
                told = self.told(entry, here) or told
            kind, verdict = told.kind, told.verdict
            stand = where_they_stand(verdict.blockers, word, entry.form)
            yield Finding(
                kind.name, self._severity(kind, verdict.status), word, verdict.status, start, end, here, after(end), stand, told.message, told.remedy
            )  # fmt: skip

    @cached_property
    def of_the_text(self) -> list[Finding]:
        """The findings that are not about one word by itself."""
        text, place, after = self.document.text, self.document.place, self.document.end_place
        silence = Silence(self.treatment)
        looking = [kind for kind in kinds().values() if kind.find and not self.treatment.off(kind.name)]
        spotted = [(s, kind) for kind in looking if kind.name != IDLE and kind.find for s in kind.find(self)]
        spotted.sort(key=lambda pair: pair[0].start)
        told = [(s, k) for s, k in spotted if not silence.covers(s.word or text[s.start : s.end], k.name, s.start)]
        # what is idle is known when all the others have been looked for
        self.used |= silence.used
        told += [(s, kind) for kind in looking if kind.name == IDLE and kind.find for s in kind.find(self)]
        return [
            Finding(
                kind.name, self._severity(kind), s.word or text[s.start : s.end], "", s.start, s.end,
                *(s.places or (place(s.start), after(s.end))), (), s.message, s.remedy, s.excerpt,
            )
            for s, kind in told
            if (s.start, kind.name) not in self.accepted
        ]  # fmt: skip

    @property
    def idle(self) -> list[Allowance]:
        """The allowances of the text that allow nothing."""
        if not self.treatment.idle_told:
            return []
        return [a for n, a in enumerate(self.treatment.allowances) if a.in_text and n not in self.used]

    @property
    def words(self) -> Iterator[WordAt]:
        """Every judged word in order, if the check was asked for every word."""
        for start, end, number in zip(self.starts, self.ends, self.which):
            yield WordAt(self.document.text[start:end], start, end, self.verdict(self.entries[number]))

    def verdict(self, entry: Entry) -> Verdict:
        """What is said of a form at its place."""
        if entry.name and self.order.skip_names:
            return Verdict(ALLOWED, first_step=0)
        verdict = self.judge.judge(entry.form, entry.sense)
        return replace(verdict, status=ALLOWED) if entry.allowed else verdict

    def verdict_on(self, word: Word) -> Verdict:
        """What is said of a distinct word, where it has its worst status."""
        return self.judge.judge(word.form, word.sense)

    def told(self, entry: Entry, place: Place | None = None) -> Told | None:
        """What is told of a form, at a place if the kind of finding wants to know it; None for one that is fine."""
        if place:
            return self._told(entry, place)
        # all but the place is the same in every text at this step
        key = entry, entry in self._guessed, self.document.kept
        known = self._told_before
        if key in known:
            return known[key]
        told = self._told(entry)
        if len(known) < MOST_REMEMBERED:
            known[key] = told
        return told

    @property
    def _told_before(self) -> dict[tuple[Entry, bool, str], Told | None]:
        """What was told of forms in texts at this step, whatever their place."""
        before = self.order.remembered.get(("told", self.step))
        if not isinstance(before, _Before):
            before = self.order.remembered["told", self.step] = _Before()
        return before.told

    def _told(self, entry: Entry, place: Place | None = None) -> Told | None:
        form, name, sense, _ = entry
        verdict = self.verdict(entry)
        lone = form == "I" or name or self.judge.is_name(form)
        plain = form if lone else plain_spelling(form).plain
        pin = partial(guess, verdict.detail, self.order.accent) if entry in self._guessed else str
        where, settled_as = (as_toml(place), self.settled_as) if place else ("", "")
        word = Judged(
            form, plain, name, verdict, self.step, self.order.accent, settled_as, where, pin, self.document.kept
        )
        kind = kind_of(word)
        if kind is None or kind.say is None:
            return None
        message, remedy = kind.say(word)
        message += self._read_as(form, sense)
        return Told(kind, verdict, *self._for_group(form, verdict, message, remedy))

    @cached_property
    def _guessed(self) -> frozenset[Entry]:
        """The unknown words for which a guess is made."""
        return frozenset(islice((e for e in self.entries if self.verdict(e).unlisted), MOST_GUESSES))

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
        left_out = {item.name: step for item, step in self.order.excepted.items() if item.kind == items.TRICKY}
        words = [plain, *(part.word for reading in verdict.readings for part in reading.parts)]
        return next((step for word in words if (step := left_out.get(word)) is not None), None)

    @cached_property
    def distinct(self) -> dict[str, Word]:
        """Every judged word by its plain spelling."""
        return by_word(self.occurrences)

    @cached_property
    def running(self) -> Counter[str]:
        """How often each judged word occurs, by its plain spelling."""
        found: Counter[str] = Counter()
        for o in self.occurrences:
            found[o.plain] += o.times
        return found

    @cached_property
    def names_here(self) -> frozenset[str]:
        """Words of the lexicon that are names in this text (Nettle, Mark), by their plain spelling: they have a capital wherever they stand, and one of
        the places that are told is inside of a sentence. With `every_word`, of all words; otherwise of those that are told."""
        return names_in(self.document.text, self.occurrences, self.sites, self.order.lexicon.tables)

    def distinct_counts(self) -> Counter[str]:
        """Distinct words (not minding capitals) by status."""
        return Counter(w.status for w in self.distinct.values())

    def ready_step(self) -> int | None:
        """The first step at which every judged word can be read; None if no step does it."""
        allowed = STATUSES.index(ALLOWED)
        latest = max([step for step, rank in zip(self.forms.steps, self.forms.ranks) if rank != allowed], default=0)
        latest = max([latest, *[o.first_step for o in self.settled if o.status != ALLOWED]])
        return None if latest == NEVER else latest

    def in_the_way(self) -> list[Word]:
        """The words that are told as blocked, those with the latest first step first; those that have to be checked by eye elsewhere in the text
        are left out."""
        told = {o.plain for o in self.open if o.status == BLOCKED}
        written, plain, ranks, steps, times = self.forms
        same = [at for at, word in enumerate(plain) if word in told]
        occurrences = [Occurrence(written[n], plain[n], "", STATUSES[ranks[n]], steps[n], times[n]) for n in same]
        found = by_word([*occurrences, *(o for o in self.settled if o.plain in told)])
        words = [
            (plain, word) for plain, word in found.items() if word.status == BLOCKED and word.first_step > self.step
        ]
        return [word for _, word in sorted(words, key=lambda pair: (-pair[1].first_step, pair[0]))]

    def holding_back(self) -> list[tuple[str, int]]:
        """Distinct words with their first step, latest first; allowed ones left out."""
        pairs = [(w, found.first_step) for w, found in self.distinct.items() if found.status != ALLOWED]
        return sorted(pairs, key=lambda p: (-p[1], p[0]))
