"""Judge one form at a step: once per distinct form, whatever it stands next to.

What is said of a form is worked out from the teaching order alone; the step of the check only decides which of it holds. So the
first step at which a form can be read never depends on the step of the check.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

from decodecheck.checking.blockers import blockers, capital_blockers, capitals_step
from decodecheck.checking.context import Choice
from decodecheck.checking.hyphens import Piece, pieces
from decodecheck.checking.kinds import Guess
from decodecheck.checking.verdict import (
    ALLOWED,
    BLOCKED,
    CAPITAL,
    DECODABLE,
    DOUBLED,
    ENDING,
    IRREGULAR,
    STRUCTURE,
    TRICKY,
    TRICKY_LATER,
    UNJUDGED,
    UNSURE,
    Blocker,
    Verdict,
)
from decodecheck.lexicon.lookup import LONGEST, STRETCHED, Found, Lookup, Spelling, plain_spelling
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.phonics.sounds import project
from decodecheck.progression.first_steps import by_sense, tricky_step
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.pinned import pin_text

ROMAN = re.compile(r"M{0,3}(CM|CD|D?C{0,3})(XC|XL|L?X{0,3})(IX|IV|V?I{0,3})\Z")
"""A Roman numeral in capitals."""
MOST_GUESSES = 1000
"""A guess takes a thousandth of a second, and nobody reads more of them in one run."""
LONE_LETTERS = frozenset("aio")
"""Single letters that are words."""


class Judge:
    """Judges forms against a teaching order at one step."""

    def __init__(self, order: TeachingOrder, step: int) -> None:
        self.order = order
        self.step = step
        self.lookup = Lookup(order.accent, order.pinned)
        self.allowed_words = frozenset(word for name in order.names for word in name.replace("’", "'").split())
        self._seen: dict[tuple[str, str], Verdict] = {}
        self._choices: dict[str, tuple[Choice, ...]] = {}
        self._quick: dict[str, tuple[str, int]] = {}
        self._guessed: set[str] = set()

    def judge(self, form: str, sense: str = "") -> Verdict:
        """The verdict on a form as it stands in the text; on one of its senses, if that is known."""
        verdict = self._seen.get((form, sense))
        if verdict is None:
            verdict = self._seen[form, sense] = self._judge(form, sense)
        return verdict

    def guess(self, form: str) -> Guess | None:
        """What the spelling of an unknown word suggests; None where nothing can be said, or where very many have been guessed."""
        if len(self._guessed) >= MOST_GUESSES and form not in self._guessed:
            return None
        self._guessed.add(form)
        spelling = plain_spelling(form)
        if "-" in spelling.plain:
            # of a word with hyphens, the first part that is not known
            unknown = [p for p in pieces(spelling, self.lookup) if self.judge(p.form(form)).kind == "unlisted-word"]
            return self.guess(unknown[0].form(form)) if unknown else None
        found = self.lookup.predicted(spelling)
        if not found.readings:
            return None
        reading, accent = found.readings[0], self.order.accent
        ipa = "".join(i for s in reading.segments for i in project(s.grapheme, s.sound, s.linked, accent))
        graphemes = " ".join(s.grapheme for s in reading.segments)
        return Guess(
            graphemes,
            ipa,
            tuple(blockers(self.order, reading, self.step, found.origin)),
            pin_text(form, reading, accent),
        )

    def choices(self, form: str) -> tuple[Choice, ...]:
        """The senses of a form that differ in sound; none for a word with one."""
        found = self._choices.get(form)
        if found is None:
            found = self._choices[form] = self._find_choices(plain_spelling(form).plain)
        return found

    def _find_choices(self, word: str) -> tuple[Choice, ...]:
        if len(self.lookup.lexicon.senses(word)) < 2 or word in self.order.pinned:
            return ()
        senses = {r.sense: r for r in self.lookup.readings(word)}
        sounds = {tuple(s.key for s in r.segments) for r in senses.values()}
        if len(sounds) < 2:
            return ()
        return tuple(Choice(label, r.pos - {"RARE"}, r.rare) for label, r in senses.items())

    def status(self, form: str) -> tuple[str, int]:
        """Status and first step of a form: what `judge` says, by the shortest way."""
        found = self._quick.get(form)
        if found is None:
            found = self._by_number(form)
            if found is None:
                verdict = self.judge(form)
                found = (verdict.status, verdict.first_step)
            self._quick[form] = found
        return found

    def first_steps(self, word: str) -> tuple[int, int]:
        """From which step a plain lower-case word of the lexicon is decodable, and from which it is known by tricky words.

        NEVER where it is not. Senses that are rare do not count; capitals and allowances are left out of account.
        """
        return self.order.first_steps.of(word)

    @cached_property
    def _sense_steps(self) -> list[int]:
        steps: list[int] = self.order.readiness.senses.tolist()
        return steps

    def _by_number(self, form: str) -> tuple[str, int] | None:
        """Status and first step of an everyday word with one sense, straight from the vector; None for all others."""
        word = form
        if not (form.isascii() and form.isalpha() and len(form) > 1):
            return None
        if not form.islower():
            word = form.lower()
            gated = self.order.capitals_from or word[0] in self.order.capitals
            if gated or form in self.allowed_words or not form[1:].islower():
                return None
        lexicon = self.lookup.lexicon
        number = lexicon.tables.number(word)
        if number < 0 or self.order.pinned or word in self.order.sounds or STRETCHED.search(word):
            return None
        sense = lexicon.word_sense[number]
        if lexicon.word_sense[number + 1] != sense + 1 or number in self.order.readiness.touched:
            return None
        step = self._sense_steps[sense]
        return (DECODABLE if step <= self.step else BLOCKED), step

    def is_name(self, form: str) -> bool:
        """Does a form with a capital have no lower-case entry, so that inside a sentence it is a name?"""
        plain = plain_spelling(form).plain.removesuffix("'s").removesuffix("'")
        number = self.lookup.lexicon.tables.number(plain)
        return form[:1].isupper() and (number < 0 or bool(self.lookup.lexicon.tables.is_name[number]))

    def _judge(self, form: str, sense: str) -> Verdict:
        spelling = plain_spelling(form)
        plain = spelling.plain
        if self._is_allowed(form, plain):
            return Verdict(ALLOWED, first_step=0)
        if len(plain) == 1 and plain not in LONE_LETTERS:
            return Verdict(UNJUDGED, detail="a letter by itself")
        if len(plain) > LONGEST:
            return Verdict(UNJUDGED, detail="too long to be a word")
        if self._is_numeral(form, plain):
            return Verdict(UNJUDGED, detail="a Roman numeral")
        if "-" in plain and not self.lookup.readings(plain):
            return self._taught_whole(plain, self._hyphenated(form, spelling))
        verdict = self._judge_plain(form, self.lookup.find(spelling), sense)
        return self._with_capitals(form, plain, verdict)

    def _is_allowed(self, form: str, plain: str) -> bool:
        if form[:1].isupper():
            straight = form.replace("’", "'")
            if straight in self.allowed_words or straight.removesuffix("'s").removesuffix("'") in self.allowed_words:
                return True
            if form.isupper() and straight.capitalize() in self.allowed_words:
                return True
        if plain in self.order.sounds:
            return True
        return bool(STRETCHED.search(plain)) and _squeezed(plain) in self._squeezed_sounds

    @cached_property
    def _squeezed_sounds(self) -> frozenset[str]:
        return frozenset(map(_squeezed, self.order.sounds))

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

    def _by_sense(self, readings: Sequence[Reading]) -> list[tuple[Reading, int]]:
        """The reading of each usual sense that is readable first, and from which step: any variant of a sense will do."""
        return by_sense(self.order, readings)

    def _judge_plain(self, form: str, found: Found, sense: str) -> Verdict:
        meant = [r for r in found.readings if sense and r.sense == sense]
        fitting = [r for r in found.readings if "PROPN" not in r.pos or form[:1].isupper()]
        readings = meant or fitting or list(found.readings)
        tricky_at = self._tricky_step(found.word, readings)
        known = tricky_at is not None and tricky_at <= self.step
        if not readings:
            if known:
                return Verdict(TRICKY, first_step=self.order.tricky[found.word], tricky_at=tricky_at)
            if tricky_at is None and form.isupper() and 1 < len(form) < 6 and form.isalpha():
                return Verdict(UNJUDGED, detail="an abbreviation")
            first = NEVER if tricky_at is None else tricky_at
            return Verdict(UNSURE, "unlisted-word", first, tricky_at=tricky_at)
        pairs = self._by_sense(readings)
        best, steps = tuple(r for r, _ in pairs), [step for _, step in pairs]
        # a sense may be known by a tricky word in it (bases of base), and another one not
        reached = [min(step, self.order.known_step(found.word, r)) for r, step in pairs]
        early, late = min(reached), max(steps)
        first = min(late, max(reached), NEVER if tricky_at is None else tricky_at)
        if late <= self.step:
            return Verdict(DECODABLE, first_step=first, readings=best, tricky_at=tricky_at)
        if known or max(reached) <= self.step:
            odd = self._blockers(best[0], found, None, TRICKY)
            return Verdict(TRICKY, first_step=first, blockers=odd, readings=best, tricky_at=tricky_at)
        if early <= self.step:
            hard = next(r for r, step in zip(best, reached) if step > self.step)
            return Verdict(UNSURE, "undecided-sense", first, self._blockers(hard, found, None), best, tricky_at)
        nearest = best[reached.index(early)]
        if tricky_at is not None:
            # of two senses the later one decides from which step on the form is known
            nearest = next((r for r in best if self.order.known_step(found.word, r) == tricky_at), nearest)
        whole = self.order.rests_on(found.word, nearest) if tricky_at is not None else ""
        hindrance = self._blockers(nearest, found, tricky_at if whole else None)
        kind = "later-tricky-word" if whole else _kind(hindrance)
        return Verdict(BLOCKED, kind, first, hindrance, best, tricky_at, tricky_word=whole)

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
        if not when or verdict.status == UNJUDGED or verdict.kind == "unlisted-word":
            return verdict
        whole = self.order.tricky.get("i", NEVER) if form == "I" else NEVER
        first = min(max(when, verdict.first_step), whole)
        if when <= self.step or whole <= self.step:
            return replace(verdict, first_step=first)
        gates = capital_blockers(form, self.step, self.order)
        if verdict.status == BLOCKED:
            return replace(verdict, first_step=first, blockers=(*gates, *verdict.blockers))
        return Verdict(BLOCKED, "untaught-capital", first, gates, verdict.readings, verdict.tricky_at)

    def _tricky_step(self, word: str, readings: Sequence[Reading]) -> int | None:
        """The step at which a word is taught whole, or follows from a tricky word by an ending or as a compound."""
        return tricky_step(self.order, word, readings)

    # -- hyphenated words -------------------------------------------------------------------------------------------

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
        order = [BLOCKED, UNSURE, UNJUDGED, ALLOWED, TRICKY, DECODABLE]
        worst = min(verdicts, key=lambda v: order.index(v.status))
        hindrance = tuple(b for v in verdicts if v.status == worst.status for b in v.blockers)
        first_step = max(v.first_step for v in verdicts)
        whole = _together(judged) or worst.readings
        return replace(worst, first_step=first_step, blockers=hindrance, readings=whole)


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


def _squeezed(word: str) -> str:
    return STRETCHED.sub(r"\1", word.replace("-", ""))


_KINDS = (
    (ENDING, "untaught-ending"),
    (STRUCTURE, "untaught-structure"),
    (CAPITAL, "untaught-capital"),
    (DOUBLED, "untaught-double"),
)


def _kind(hindrance: Sequence[Blocker]) -> str:
    """The finding kind of a blocked word: by what stands most in the way; of endings, structures and capitals, by the last."""
    causes = [b.cause for b in hindrance]
    if IRREGULAR in causes:
        return "irregular-spelling"
    kinds = dict(_KINDS)
    if any(cause not in kinds for cause in causes):
        return "untaught-correspondence"
    return kinds[max(hindrance, key=lambda b: b.taught_at or NEVER).cause]
