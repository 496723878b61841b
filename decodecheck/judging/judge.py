"""Judge one form at a step: once per distinct form, whatever it stands next to.

What is said of a form is worked out from the teaching order alone; the step of the check only decides which of it holds. So the
first step at which a form can be read never depends on the step of the check.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from decodecheck.judging import written_accents
from decodecheck.judging.blockers import blockers, capital_blockers, capitals_step
from decodecheck.judging.hyphens import Piece, pieces
from decodecheck.judging.verdict import (
    ALLOWED,
    BLOCKED,
    DECODABLE,
    TRICKY,
    TRICKY_LATER,
    UNJUDGED,
    UNSURE,
    Blocker,
    Verdict,
)
from decodecheck.lexicon.lookup import LONGEST, Found, Lookup, Spelling, plain_spelling
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.progression.first_steps import by_sense, tricky_step
from decodecheck.progression.order import TeachingOrder

if TYPE_CHECKING:
    from decodecheck.judging.plain_words import PlainWords

ROMAN = re.compile(r"M{0,3}(CM|CD|D?C{0,3})(XC|XL|L?X{0,3})(IX|IV|V?I{0,3})\Z")
"""A Roman numeral in capitals."""
WORST = (BLOCKED, UNSURE, UNJUDGED, ALLOWED, TRICKY, DECODABLE)
"""Of the parts of a word, the first in this order stands for the whole."""
HYPHENED = re.compile("[-\u2010\u2011]")
LONE_LETTERS = frozenset("aio")
"""Single letters that are words."""


def judge_at(order: TeachingOrder, step: int) -> Judge:
    """The judge of an order at a step, with all that it has judged before; made when it is first asked for."""
    judge = order.remembered.get(("judge", step))
    if not isinstance(judge, Judge):
        judge = order.remembered["judge", step] = Judge(order, step)
    return judge


class Judge:
    """Judges forms against a teaching order at one step."""

    def __init__(self, order: TeachingOrder, step: int) -> None:
        self.order = order
        self.step = step
        self.lookup = Lookup(order.accent, order.pinned)
        self._seen: dict[tuple[str, str], Verdict] = {}
        self._quick: dict[str, tuple[str, int]] = {}

    def judge(self, form: str, sense: str = "") -> Verdict:
        """The verdict on a form as it stands in the text; on one of its senses, if that is known."""
        verdict = self._seen.get((form, sense))
        if verdict is None:
            verdict = self._seen[form, sense] = self._judge(form, sense, True)
        return verdict

    def status(self, form: str) -> tuple[str, int]:
        """Status and first step of a form: what `judge` says, by the shortest way."""
        found = self._quick.get(form)
        if found is None:
            found = self._quick[form] = self.statuses([form])[0]
        return found

    def statuses(self, forms: Sequence[str]) -> list[tuple[str, int]]:
        """Status and first step of many forms: what `judge` says of each, by the shortest way."""
        parts = {part for form in forms if HYPHENED.search(form) for part in self._parts(form)}
        if parts:
            new = [part for part in parts if part not in self._quick]
            self._quick.update(zip(new, self.statuses(new)))
        found = []
        for form, answer in zip(forms, self._plain_words.answers(forms, self.step)):
            if answer is None:
                verdict = self._judge(form, "", False)
                answer = verdict.status, verdict.first_step
            found.append(answer)
        return found

    def hindrances(self, forms: Sequence[str]) -> list[tuple[Blocker, ...] | None]:
        """What stands in the way of many blocked forms, without letters and by the shortest way; None where `judge` has to be asked."""
        return self._plain_words.hindrances(forms, self.step)

    @cached_property
    def _plain_words(self) -> PlainWords:
        # numpy is slow to load, and explain does without the vectors
        from decodecheck.judging.plain_words import PlainWords

        return PlainWords(self.order)

    def is_name(self, form: str) -> bool:
        """Does a form with a capital have no lower-case entry, so that inside a sentence it is a name?"""
        if not form[:1].isupper():
            return False
        plain = plain_spelling(form).plain.removesuffix("'s").removesuffix("'")
        number = self.lookup.lexicon.tables.number(plain)
        return number < 0 or bool(self.lookup.lexicon.tables.is_name[number])

    def _judge(self, form: str, sense: str, whole: bool) -> Verdict:
        """The verdict on a form; where not the `whole` of it is wanted, without what stands in the way."""
        spelling = plain_spelling(form)
        plain = spelling.plain
        if self.order.allows(form, plain):
            return Verdict(ALLOWED, first_step=0)
        if len(plain) == 1 and plain not in LONE_LETTERS:
            return Verdict(UNJUDGED, detail="a letter by itself")
        if len(plain) > LONGEST:
            return Verdict(UNJUDGED, detail="too long to be a word")
        if self._is_numeral(form, plain):
            return Verdict(UNJUDGED, detail="a Roman numeral")
        if "-" in plain and not self.lookup.knows(plain):
            judged = self._hyphenated(form, spelling) if whole else self._by_parts(form)
            return self._taught_whole(plain, judged)
        if not form.isascii() and not self._same_without_accents(form, plain):
            return Verdict(UNSURE, NEVER, detail=form)
        verdict = self._judge_plain(form, self.lookup.find(spelling), sense, whole)
        return self._with_capitals(form, plain, verdict)

    def _same_without_accents(self, form: str, plain: str) -> bool:
        """Whether a form is the word that is left without its accents, as far as that is known, or one that the progression itself speaks of."""
        taught = self.order.tricky_spelling.get(plain, plain) if plain in self.order.tricky else plain
        if written_accents.is_without(form) or written_accents.same(form, taught):
            return True
        return form[:1].isupper() and self.is_name(form)

    def _is_numeral(self, form: str, plain: str) -> bool:
        """XIV or xiv, but no word: MIX, did, I."""
        letters = form.upper() if form.islower() else form
        return len(form) > 1 and ROMAN.match(letters) is not None and not self.lookup.lexicon.has(plain)

    def _taught_whole(self, plain: str, verdict: Verdict) -> Verdict:
        """The verdict on a word with a hyphen that may be a tricky word itself."""
        taught = self.order.tricky.get(plain)
        if taught is None:
            return verdict
        first = min(taught, verdict.first_step)
        if taught <= self.step and verdict.status != DECODABLE:
            return Verdict(TRICKY, first_step=first, readings=verdict.readings, tricky_at=taught)
        return replace(verdict, first_step=first, tricky_at=taught)

    def _judge_plain(self, form: str, found: Found, sense: str, whole: bool) -> Verdict:
        meant = [r for r in found.readings if sense and r.sense == sense]
        fitting = [r for r in found.readings if "PROPN" not in r.pos or form[:1].isupper()]
        readings = meant or fitting or list(found.readings)
        tricky_at = tricky_step(self.order, found.word, readings)
        known = tricky_at is not None and tricky_at <= self.step
        if not readings:
            if known:
                return Verdict(TRICKY, first_step=self.order.tricky[found.word], tricky_at=tricky_at)
            if tricky_at is None and form.isupper() and 1 < len(form) < 6 and form.isalpha():
                return Verdict(UNJUDGED, detail="an abbreviation")
            return Verdict(UNSURE, NEVER if tricky_at is None else tricky_at, tricky_at=tricky_at, detail=form)
        pairs = by_sense(self.order, readings)
        best, steps = tuple(r for r, _ in pairs), [step for _, step in pairs]
        # a sense may be known by a tricky word in it (bases of base), and another one not
        reached = [min(step, self.order.known_step(found.word, r)) for r, step in pairs]
        early, late = min(reached), max(steps)
        first = min(late, max(reached), NEVER if tricky_at is None else tricky_at)
        if late <= self.step:
            return Verdict(DECODABLE, first, (), best, tricky_at)
        if known or max(reached) <= self.step:
            odd = self._blockers(best[0], found, None, TRICKY) if whole else ()
            return Verdict(TRICKY, first, odd, best, tricky_at)
        if early <= self.step:
            hard = next(r for r, step in zip(best, reached) if step > self.step)
            return Verdict(UNSURE, first, self._blockers(hard, found, None) if whole else (), best, tricky_at)
        if not whole:
            return Verdict(BLOCKED, first, (), best, tricky_at)
        nearest = best[reached.index(early)]
        if tricky_at is not None:
            # of two senses the later one decides from which step on the form is known
            nearest = next((r for r in best if self.order.known_step(found.word, r) == tricky_at), nearest)
        rests_on = self.order.rests_on(found.word, nearest) if tricky_at is not None else ""
        hindrance = self._blockers(nearest, found, tricky_at if rests_on else None)
        return Verdict(BLOCKED, first, hindrance, best, tricky_at, tricky_word=rests_on)

    def _blockers(
        self, reading: Reading, found: Found, tricky_at: int | None, status: str = BLOCKED
    ) -> tuple[Blocker, ...]:
        """What is not taught of a reading; of a tricky word (`status`), what is odd in it."""
        result: list[Blocker] = []
        known = frozenset() if status == TRICKY else self.order.units_known(reading, self.step)
        for b in blockers(self.order, reading, self.step, found.origin, known):
            if tricky_at is not None and (b.taught_at is None or b.taught_at >= tricky_at):
                b = replace(b, taught_at=tricky_at, cause=TRICKY_LATER)
            result.append(b)
        return tuple(dict.fromkeys(result))

    def _with_capitals(self, form: str, plain: str, verdict: Verdict) -> Verdict:
        """A capital that is gated holds any word back until it is taught; the tricky word I brings its own."""
        when = capitals_step(form, self.order)
        if not when or verdict.status == UNJUDGED or verdict.unlisted:
            return verdict
        whole = self.order.tricky.get("i", NEVER) if form == "I" else NEVER
        first = min(max(when, verdict.first_step), whole)
        if when <= self.step or whole <= self.step:
            return replace(verdict, first_step=first)
        gates = capital_blockers(form, self.step, self.order)
        if verdict.status == BLOCKED:
            return replace(verdict, first_step=first, blockers=(*gates, *verdict.blockers))
        return Verdict(BLOCKED, first, gates, verdict.readings, verdict.tricky_at)

    # -- hyphenated words -------------------------------------------------------------------------------------------

    def _parts(self, form: str) -> list[str]:
        """The parts of a hyphenated form that are judged, as they stand."""
        return [piece.form(form) for piece in pieces(plain_spelling(form), self.lookup)]

    def _by_parts(self, form: str) -> Verdict:
        """What `_hyphenated` says, without what stands in the way."""
        judged = [self.status(part) for part in self._parts(form)]
        judged = [(status, step) for status, step in judged if status != UNJUDGED] or judged
        if not judged:
            return Verdict(UNJUDGED)
        return Verdict(min((status for status, _ in judged), key=WORST.index), max(step for _, step in judged))

    def _hyphenated(self, form: str, spelling: Spelling) -> Verdict:
        """The verdict on a word with hyphens: that of its parts; a letter by itself (e-mail) is none to judge."""
        judged: list[tuple[Piece, Verdict]] = []
        for piece in pieces(spelling, self.lookup):
            verdict = self.judge(piece.form(form))
            moved = tuple(replace(x, letters=piece.moved(x.letters)) for x in verdict.blockers)
            judged.append((piece, replace(verdict, blockers=moved)))
        judged = [(p, v) for p, v in judged if v.status != UNJUDGED] or judged
        if not judged:
            return Verdict(UNJUDGED, detail="a sign")
        verdicts = [v for _, v in judged]
        worst = min(verdicts, key=lambda v: WORST.index(v.status))
        hindrance = tuple(b for v in verdicts if v.status == worst.status for b in v.blockers)
        first_step = max(v.first_step for v in verdicts)
        readings = _together(judged) or worst.readings
        return replace(worst, first_step=first_step, blockers=hindrance, readings=readings)


def _together(judged: Sequence[tuple[Piece, Verdict]]) -> tuple[Reading, ...]:
    """The readings of the parts of a hyphenated word as one, where each part has one."""
    if any(len(v.readings) != 1 for _, v in judged):
        return ()
    segments = tuple(
        replace(s, letters=tuple(i + piece.start for i in s.letters))
        for piece, v in judged
        for s in v.readings[0].segments
    )
    units = tuple(u for _, v in judged for u in v.readings[0].units)
    return (Reading(segments, units, "derived"),)
