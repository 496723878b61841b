"""A word list held against a teaching order: what is known of each entry, worked out once, for every kind of finding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from decodecheck.checking.settle import Settle
from decodecheck.documents.words import cut
from decodecheck.errors import Problem, UserError
from decodecheck.judging.judge import judge_at
from decodecheck.judging.verdict import DECODABLE
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import Reading
from decodecheck.lists.replacements import Replacements
from decodecheck.lists.word_list import STEP, TARGET, Entry, ListCell, WordList
from decodecheck.phonics.sounds import project
from decodecheck.progression.step_expression import Standing, Wanted, choose_step
from decodecheck.wordlists.described import columns_of
from decodecheck.wordlists.in_accents import unread_in
from decodecheck.wordlists.left_out import LeftOut
from decodecheck.wordlists.shown import sound_count
from decodecheck.wordlists.targets import Target, target


@dataclass(frozen=True, slots=True)
class Fact:
    """What is known of an entry: its word in plain letters ("" where it is none, or several), its usual readings, the step and the target
    that hold for it, its status at that step, and what in it is unfit for a primary classroom ("" for most)."""

    entry: Entry
    word: str
    readings: tuple[Reading, ...]
    step: int
    target: Target | None
    status: str
    unfit: str = ""

    @property
    def form(self) -> str:
        """The word as it is written."""
        return self.entry.word.text


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a whole list: the target of every entry that has none of its own, and whether it is to go from easy to hard to spell."""

    target: Target | None = None
    ordered: bool = False


class Examined:
    """A list, for readers who stand somewhere. `problems` are targets and steps that cannot be meant; their rows go without."""

    def __init__(self, word_list: WordList, standing: Standing, asked: Asked, settle: Settle | None = None) -> None:
        self.list, self.order, self.step, self.asked = word_list, standing.order, standing.step, asked
        self._settle = settle
        self._targets: dict[str, Target | UserError] = {}
        self._steps: dict[str, int | UserError] = {}
        self.problems: list[Problem] = []
        own = [
            (self._own_step(entry, self.problems), self._own_target(entry, self.problems))
            for entry in word_list.entries
        ]
        self.steps = [step for step, _ in own]
        self.targets = [wanted for _, wanted in own]
        self._words: dict[str, tuple[str, tuple[Reading, ...]]] = {}
        self._kinds: dict[str, frozenset[str]] = {}
        self._instead: dict[tuple[str, int, Target | None], str] = {}

    # -- what rows declare --------------------------------------------------------------------------------------------------

    def _own_step(self, entry: Entry, problems: list[Problem]) -> int:
        cell = entry.cells.get(STEP)
        if cell is None:
            return self.step
        known = self._steps.get(cell.text)
        if known is None:
            known = self._steps[cell.text] = self._chosen(cell)
        if isinstance(known, int):
            return known
        problems += [self.list.problem(cell, p.what, p.todo) for p in known.problems]
        return self.step

    def _chosen(self, cell: ListCell) -> int | UserError:
        try:
            standing = choose_step(self.order, Wanted(cell.text))
        except UserError as error:
            return error
        if standing.order is not self.order:
            what = "A row of a list has a step of the progression, and nothing besides."
            return UserError(Problem("", what, "Write its number or its title alone."))
        return standing.step

    def _own_target(self, entry: Entry, problems: list[Problem]) -> Target | None:
        cell = entry.cells.get(TARGET)
        if cell is None:
            return self.asked.target
        known = self._targets.get(cell.text)
        if known is None:
            try:
                known = target(self.order, cell.text, "target")
            except UserError as error:
                known = error
            self._targets[cell.text] = known
        if isinstance(known, Target):
            return known
        problems += [self.list.problem(cell, p.what, p.todo) for p in known.problems]
        return self.asked.target

    # -- what is known of words ---------------------------------------------------------------------------------------------

    @cached_property
    def facts(self) -> tuple[Fact, ...]:
        """The entries in order, with what is known of each."""
        known = [self._known(entry.word.text) for entry in self.list.entries]
        forms: dict[int, dict[str, None]] = {}
        for entry, step, (word, _) in zip(self.list.entries, self.steps, known):
            if word:
                forms.setdefault(step, {})[entry.word.text] = None
        statuses = {
            (step, form): status
            for step, own in forms.items()
            for form, (status, _) in zip(own, judge_at(self.order, step).statuses(list(own)))
        }
        rows = zip(self.list.entries, self.steps, self.targets, known)
        return tuple(
            Fact(
                entry,
                word,
                readings,
                step,
                wanted,
                statuses.get((step, entry.word.text), ""),
                self._unfit(entry.word.text),
            )
            for entry, step, wanted, (word, readings) in rows
        )

    @property
    def words(self) -> list[Fact]:
        """The entries that are one word with a reading."""
        return [fact for fact in self.facts if fact.readings]

    def _known(self, text: str) -> tuple[str, tuple[Reading, ...]]:
        known = self._words.get(text)
        if known is None:
            stretches = text.split()
            cuts = [c for stretch in stretches for c in cut(stretch)] if len(stretches) == 1 else []
            if len(cuts) != 1 or cuts[0].kind != "word":
                known = "", ()
            else:
                spelling = plain_spelling(text[cuts[0].start : cuts[0].end])
                lookup = judge_at(self.order, self.step).lookup
                found = lookup.readings(spelling.plain)
                if not found and "-" in spelling.plain:
                    found = lookup.joined(spelling).readings
                usual = tuple(r for r in found if not r.rare)
                known = spelling.plain, usual or tuple(found)
            self._words[text] = known
        return known

    @cached_property
    def _unfit_words(self) -> frozenset[str]:
        columns = columns_of(self.order)
        words = columns.tables.words()
        return frozenset(words[number] for number in np.flatnonzero(columns.unfit).tolist())

    def _unfit(self, text: str) -> str:
        """The first unfit word in the text of an entry; "" for none."""
        return next(
            (word for word in plain_spelling(text).plain.split() if word.strip(",.;:!?") in self._unfit_words), ""
        )

    def settled(self, fact: Fact) -> bool:
        """Whether the sense of an entry's word was settled by hand."""
        return bool(self._settle and self._settle(fact.word, fact.entry.word.place))

    def said(self, reading: Reading) -> str:
        """A reading in IPA, in the accent of the order."""
        return "".join(
            sound for s in reading.segments for sound in project(s.grapheme, s.sound, s.linked, self.order.accent)
        )

    def sounds(self, reading: Reading) -> int:
        """How many sounds a reading has."""
        return sound_count(reading, self.order.accent)

    # -- what is known of words of the lexicon ------------------------------------------------------------------------------

    @cached_property
    def numbers(self) -> dict[str, int]:
        """The number in the lexicon of each word that it lists."""
        known = self.order.lexicon.tables
        words = {fact.word for fact in self.words}
        return {word: number for word in sorted(words) if (number := known.number(word)) >= 0}

    def of_kind(self, kind: str) -> frozenset[str]:
        """The words of the list that are of a kind which lists leave out (`left_out.KINDS`)."""
        found = self._kinds.get(kind)
        if found is None:
            numbers = np.array(list(self.numbers.values()), np.int64)
            first = columns_of(self.order).first_reading[numbers].astype(np.int64)
            mask = self._left_out.are(kind, numbers, first) if len(numbers) else np.zeros(0, bool)
            found = self._kinds[kind] = frozenset(word for word, one in zip(self.numbers, mask.tolist()) if one)
        return found

    @cached_property
    def _left_out(self) -> LeftOut:
        columns = columns_of(self.order)
        return LeftOut(columns, self.order, self.step, columns.tables.words())

    @cached_property
    def not_yet_in(self) -> dict[str, tuple[str, ...]]:
        """Words that can be decoded at their step, with the accents in which they cannot."""
        found: dict[str, tuple[str, ...]] = {}
        by_step: dict[int, list[str]] = {}
        for fact in self.words:
            if fact.status == DECODABLE:
                by_step.setdefault(fact.step, []).append(fact.word)
        for step, words in by_step.items():
            for word, accents in unread_in(self.order, step, list(dict.fromkeys(words))).items():
                found.setdefault(word, accents)
        return found

    @cached_property
    def _replacements(self) -> Replacements:
        return Replacements(self.order, frozenset(fact.word for fact in self.facts if fact.word))

    def instead_of(self, fact: Fact) -> str:
        """A word that could stand for an entry: it can be decoded, and keeps its target, number of sounds and structure; "" for none."""
        key = fact.word, fact.step, fact.target
        if key not in self._instead:
            reading = fact.readings[0] if fact.readings else None
            sounds = self.sounds(reading) if reading else 0
            self._instead[key] = self._replacements.find(fact.step, fact.target, reading, sounds)
        return self._instead[key]

    def or_instead(self, fact: Fact, remedy: str) -> str:
        """A remedy, with a word that could stand for the entry where there is one."""
        other = self.instead_of(fact)
        return f"{remedy} Another word for its place: {other}." if other else remedy


def sole(facts: Sequence[Fact]) -> list[Fact]:
    """The first entry of each word."""
    return list({fact.word: fact for fact in reversed(facts)}.values())[::-1]
