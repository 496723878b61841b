"""Judge one form at a step: once per distinct form, whatever it stands next to."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

from decodecheck.checking.blockers import blockers, capital_blocker, capital_step
from decodecheck.checking.context import Choice
from decodecheck.checking.kinds import Guess
from decodecheck.checking.verdict import (
    ALLOWED,
    BLOCKED,
    CAPITAL,
    DECODABLE,
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
from decodecheck.lexicon.analysis import not_endings
from decodecheck.lexicon.derive import said
from decodecheck.lexicon.endings import attach, loose, splits
from decodecheck.lexicon.lookup import STRETCHED, Found, Lookup, Spelling, plain_spelling
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.phonics.sounds import project
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.pinned import pin_text

ROMAN = re.compile(r"M{0,3}(CM|CD|D?C{0,3})(XC|XL|L?X{0,3})(IX|IV|V?I{0,3})\Z")
"""A Roman numeral in capitals."""
LONGEST_COMPOUND = 60
"""No two words make a longer one; looking for them in a text without a space would take minutes."""
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

    def judge(self, form: str, sense: str = "") -> Verdict:
        """The verdict on a form as it stands in the text; on one of its senses, if that is known."""
        verdict = self._seen.get((form, sense))
        if verdict is None:
            verdict = self._seen[form, sense] = self._judge(form, sense)
        return verdict

    def guess(self, form: str) -> Guess | None:
        """What the spelling of an unknown word suggests; None where nothing can be said."""
        found = self.lookup.predicted(plain_spelling(form))
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
        """From which step a plain lower-case word of the lexicon is decodable, and from which it is a tricky word.

        NEVER where it is not. Senses that are rare do not count; capitals and allowances are left out of account.
        """
        decodable = self._decodable_steps.get(word)
        if decodable is None or (decodable == NEVER and not self.lookup.lexicon.has(word)):
            readings = self.lookup.find(plain_spelling(word)).readings
            senses: dict[str, int] = {}
            for r in [r for r in readings if not r.rare] or readings:
                senses[r.sense] = min(senses.get(r.sense, NEVER), self.order.reading_step(r))
            decodable = max(senses.values(), default=NEVER)
            self._decodable_steps[word] = decodable
        tricky = self._tricky_step(word, self.lookup.readings(word)) if self._may_be_tricky(word) else None
        return decodable, NEVER if tricky is None else tricky

    @cached_property
    def _decodable_steps(self) -> dict[str, int]:
        from decodecheck.progression.readiness import Readiness

        steps = Readiness(self.order).words.tolist()
        return {w: s for w, s in zip(self.lookup.lexicon.tables.words(), steps) if w not in self.order.pinned}

    @cached_property
    def _sense_steps(self) -> list[int]:
        # numpy is slow to load, and explain can do without the vector
        from decodecheck.progression.readiness import Readiness

        steps: list[int] = Readiness(self.order).senses.tolist()
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
        if number < 0 or word in self.order.pinned or word in self.order.sounds:
            return None
        sense = lexicon.word_sense[number]
        if lexicon.word_sense[number + 1] != sense + 1:
            return None
        step = self._sense_steps[sense]
        if step <= self.step:
            return DECODABLE, step
        return None if self._may_be_tricky(word) else (BLOCKED, step)

    def _may_be_tricky(self, word: str) -> bool:
        tricky = self.order.tricky
        if word in tricky or any(split.base in tricky for split in splits(word)):
            return True
        return any(word[:at] in tricky or word[at:] in tricky for at in range(2, len(word) - 1))

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
        if len(form) > 1 and ROMAN.match(form) and not (self.lookup.lexicon.has(plain) and len(set(form)) > 2):
            return Verdict(UNJUDGED, detail="a Roman numeral")
        if "-" in plain and not self.lookup.readings(plain):
            return self._taught_whole(plain, self._hyphenated(form, spelling))
        verdict = self._judge_plain(form, self.lookup.find(spelling), sense)
        return self._with_capital(form, verdict)

    def _is_allowed(self, form: str, plain: str) -> bool:
        if form[:1].isupper():
            straight = form.replace("’", "'")
            if straight in self.allowed_words or straight.removesuffix("'s").removesuffix("'") in self.allowed_words:
                return True
            if form.isupper() and straight.capitalize() in self.allowed_words:
                return True
        if plain in self.order.sounds:
            return True
        return bool(STRETCHED.search(plain)) and _squeezed(plain) in {_squeezed(s) for s in self.order.sounds}

    def _taught_whole(self, plain: str, verdict: Verdict) -> Verdict:
        """The verdict on a word with a hyphen that may be a tricky word itself."""
        taught = self.order.tricky.get(plain)
        if taught is None or verdict.status == DECODABLE:
            return verdict
        first = min(taught, verdict.first_step)
        if taught <= self.step:
            return Verdict(TRICKY, first_step=first, readings=verdict.readings, tricky_at=taught)
        return replace(verdict, first_step=first, tricky_at=taught)

    def _judge_plain(self, form: str, found: Found, sense: str) -> Verdict:
        meant = [r for r in found.readings if sense and r.sense == sense]
        readings = (
            meant or [r for r in found.readings if "PROPN" not in r.pos or form[:1].isupper()] or list(found.readings)
        )
        usual = [r for r in readings if not r.rare] or readings
        tricky_at = self._tricky_step(found.word, readings)
        if not usual:
            if tricky_at is not None and tricky_at <= self.step:
                return Verdict(TRICKY, first_step=tricky_at, tricky_at=tricky_at)
            if form.isupper() and 1 < len(form) < 6 and form.isalpha():
                return Verdict(UNJUDGED, detail="an abbreviation")
            return Verdict(UNSURE, "unlisted-word", tricky_at=tricky_at)
        senses: dict[str, list[Reading]] = {}
        for reading in usual:
            senses.setdefault(reading.sense, []).append(reading)
        # any variant of a sense will do
        best = [min(group, key=self.order.reading_step) for group in senses.values()]
        steps = [self.order.reading_step(r) for r in best]
        early, late = min(steps), max(steps)
        ready = min(late, tricky_at if tricky_at is not None else NEVER)
        if late <= self.step:
            return Verdict(DECODABLE, first_step=late, readings=tuple(best), tricky_at=tricky_at)
        if tricky_at is not None and tricky_at <= self.step:
            odd = self._blockers(best[:1], self.step, found, None)
            return Verdict(
                TRICKY, first_step=min(tricky_at, late), blockers=odd, readings=tuple(best), tricky_at=tricky_at
            )
        if early <= self.step:
            in_the_way = self._blockers([r for r, s in zip(best, steps) if s > self.step][:1], self.step, found, None)
            return Verdict(UNSURE, "undecided-sense", ready, in_the_way, tuple(best), tricky_at)
        hindrance = self._blockers([best[steps.index(early)]], self.step, found, tricky_at)
        return Verdict(BLOCKED, _kind(hindrance, tricky_at), ready, hindrance, tuple(best), tricky_at)

    def _blockers(
        self, readings: Sequence[Reading], step: int, found: Found, tricky_at: int | None
    ) -> tuple[Blocker, ...]:
        result: list[Blocker] = []
        for reading in readings:
            for b in blockers(self.order, reading, step, found.origin):
                if tricky_at is not None and (b.taught_at is None or b.taught_at >= tricky_at):
                    b = replace(b, taught_at=tricky_at, cause=TRICKY_LATER)
                result.append(b)
        return tuple(dict.fromkeys(result))

    def _with_capital(self, form: str, verdict: Verdict) -> Verdict:
        """A capital that is gated holds any word back until it is taught."""
        if not form[:1].isupper() or verdict.status not in (DECODABLE, TRICKY, BLOCKED):
            return verdict
        when = capital_step(form[0], self.order)
        if when <= self.step or (form == "I" and verdict.status == TRICKY):
            return verdict
        hindrance = (capital_blocker(form[0], self.order), *(verdict.blockers if verdict.status == BLOCKED else ()))
        kind = verdict.kind or "untaught-capital"
        return Verdict(BLOCKED, kind, max(when, verdict.first_step), hindrance, verdict.readings, verdict.tricky_at)

    # -- tricky words and what is built on them ---------------------------------------------------------------------

    def _tricky_step(self, word: str, readings: Sequence[Reading]) -> int | None:
        """The step at which a word is taught whole, or follows from a tricky word by an ending or as a compound."""
        tricky = self.order.tricky
        options = [tricky[word]] if word in tricky else []
        pronunciations = {loose(said(r, self.lookup.lexicon.name)) for r in readings}
        for split in splits(word):
            if split.base in tricky and (word, split.ending) not in not_endings():
                built = {
                    loose(p)
                    for base in self.lookup.deriver.known(split.base)
                    for p, _ in attach(split.base, base, split.ending, self.lookup.lexicon.name)
                }
                if built & pronunciations:
                    ending = self.order.item_step.get(f"ending|{split.ending}", 0)
                    options.append(max(tricky[split.base], ending))
        for at in range(2, len(word) - 1) if len(word) <= LONGEST_COMPOUND else ():
            halves = word[:at], word[at:]
            if not any(half in tricky for half in halves):
                continue
            steps = [self._half_step(half) for half in halves]
            if all(s < NEVER for s in steps) and self._adds_up(halves, pronunciations):
                options.append(max(steps))
        return min(options, default=None)

    def _half_step(self, half: str) -> int:
        if half in self.order.tricky:
            return self.order.tricky[half]
        return min((self.order.reading_step(r) for r in self.lookup.lexicon.readings(half)), default=NEVER)

    def _adds_up(self, halves: tuple[str, str], pronunciations: set[str]) -> bool:
        known = self.lookup.deriver.known
        return any(loose(f"{a} {b}") in pronunciations for a in known(halves[0]) for b in known(halves[1]))

    # -- hyphenated words -------------------------------------------------------------------------------------------

    def _hyphenated(self, form: str, spelling: Spelling) -> Verdict:
        """Each part is judged; a stutter (b-b-but) only by its last part."""
        parts: list[tuple[int, int]] = []
        start = 0
        for i, letter in enumerate(spelling.plain + "-"):
            if letter == "-":
                if i > start:
                    parts.append((start, i))
                start = i + 1
        texts = [spelling.plain[a:b] for a, b in parts]
        if (
            len(texts) > 1
            and len(texts[0]) <= 3
            and texts[-1].startswith(texts[0])
            and all(t == texts[0] for t in texts[:-1])
        ):
            parts = parts[-1:]
        verdicts: list[Verdict] = []
        for a, b in parts:
            first, last = spelling.origin[a], spelling.origin[b - 1] + 1
            piece = self.judge(form[first:last])
            moved = tuple(replace(x, letters=tuple(i + first for i in x.letters)) for x in piece.blockers)
            verdicts.append(
                Verdict(
                    piece.status, piece.kind, piece.first_step, moved, piece.readings, piece.tricky_at, piece.detail
                )
            )
        if not verdicts:
            return Verdict(UNJUDGED, detail="a sign")
        order = [BLOCKED, UNSURE, UNJUDGED, ALLOWED, TRICKY, DECODABLE]
        worst = min(verdicts, key=lambda v: order.index(v.status))
        hindrance = tuple(b for v in verdicts if v.status == worst.status for b in v.blockers)
        first_step = max(v.first_step for v in verdicts)
        whole = _together(parts, verdicts) or worst.readings
        return Verdict(worst.status, worst.kind, first_step, hindrance, whole, worst.tricky_at, worst.detail)


def _together(parts: Sequence[tuple[int, int]], verdicts: Sequence[Verdict]) -> tuple[Reading, ...]:
    """The readings of the parts of a hyphenated word as one, where each part has one."""
    if any(len(v.readings) != 1 for v in verdicts):
        return ()
    segments = tuple(
        replace(s, letters=tuple(i + start for i in s.letters))
        for (start, _), v in zip(parts, verdicts)
        for s in v.readings[0].segments
    )
    units = tuple(u for v in verdicts for u in v.readings[0].units)
    return (Reading(segments, units, "derived"),)


def _squeezed(word: str) -> str:
    return STRETCHED.sub(r"\1", word.replace("-", ""))


def _kind(hindrance: Sequence[Blocker], tricky_at: int | None) -> str:
    """The finding kind of a blocked word: by what stands most in the way."""
    if tricky_at is not None:
        return "later-tricky-word"
    causes = [b.cause for b in hindrance]
    if IRREGULAR in causes:
        return "irregular-spelling"
    for cause, kind in ((ENDING, "untaught-ending"), (STRUCTURE, "untaught-structure"), (CAPITAL, "untaught-capital")):
        if all(c == cause for c in causes):
            return kind
    return "untaught-correspondence"
