"""A resolved progression: what is taught at which step, and what that makes of every item."""

from __future__ import annotations

import re
from copy import copy
from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import TYPE_CHECKING

from decodecheck.lexicon.items import (
    ADJACENT,
    ALWAYS,
    GPC,
    IRREGULAR,
    LETTERS,
    PATTERN,
    PLAIN_N,
    SHAPE,
    SINGLE,
    SYLLABLES,
    TOGETHER,
    UNNAMED,
    WEAKENED,
    Item,
)
from decodecheck.lexicon.lookup import STRETCHED
from decodecheck.lexicon.store import NEVER, Lexicon, Reading, lexicon
from decodecheck.lexicon.units import Unit
from decodecheck.phonics.sounds import Sound, lexicon_of

if TYPE_CHECKING:
    from decodecheck.progression.readiness import Readiness

MONOSYLLABLE = re.compile(r"(C*)V(C*)\Z")


@dataclass(frozen=True, slots=True)
class StepHead:
    """One step: number, title, and where it is declared."""

    number: int
    title: str
    path: str
    line: int


@dataclass(frozen=True, slots=True)
class Mention:
    """One taught thing: its step, how the file writes it, its kind, the items it stands for, and where it is written."""

    step: int
    label: str
    kind: str
    keys: frozenset[Item]
    path: str
    line: int
    column: int


@dataclass
class TeachingOrder:
    """Everything a progression says, resolved.

    `item_step` holds the step of every item that is taught; `tricky` the step of each tricky word (lower case;
    `tricky_spelling` has it as it is written);
    `sources` the lines of every file it is made of, by path; `capitals` the step of each capital letter that is taught by itself. Where it is the order of one group (`variant` says
    which, as in "14 except ow as in town"), `excepted` holds what the group has not been taught, with the class's step.
    """

    name: str
    path: str
    accent: str
    steps: list[StepHead] = field(default_factory=list)
    mentions: list[Mention] = field(default_factory=list)
    item_step: dict[Item, int] = field(default_factory=dict)
    tricky: dict[str, int] = field(default_factory=dict)
    tricky_places: dict[str, tuple[str, int, int]] = field(default_factory=dict)
    tricky_spelling: dict[str, str] = field(default_factory=dict)
    capitals: dict[str, int] = field(default_factory=dict)
    capitals_from: int = 0
    doubled_from: int = 0
    names: frozenset[str] = frozenset()
    sounds: frozenset[str] = frozenset()
    skip_names: bool = False
    weak_exact: bool = False
    pinned: dict[str, Reading] = field(default_factory=dict)
    sources: dict[str, tuple[str, ...]] = field(default_factory=dict)
    variant: str = ""
    excepted: dict[Item, int] = field(default_factory=dict)
    _unit_step: dict[Unit, int] = field(default_factory=dict, repr=False, compare=False)
    remembered: dict[object, object] = field(init=False, default_factory=dict, repr=False, compare=False)
    """What others have worked out from this order and keep with it; no part of its value."""

    def __getstate__(self) -> dict[str, object]:
        """Its value, without what is worked out from it anew."""
        named = {f.name for f in fields(self)} - {"remembered", "_unit_step"}
        return {name: value for name, value in self.__dict__.items() if name in named}

    def __setstate__(self, state: dict[str, object]) -> None:
        self.__dict__ |= state | {"remembered": {}, "_unit_step": {}}

    def for_group(self, variant: str) -> TeachingOrder:
        """An order that says the same so far and shares nothing that changes, for a group that `variant` describes."""
        own = {f.name: copy(getattr(self, f.name)) for f in fields(self) if f.init and f.name != "_unit_step"}
        return TeachingOrder(**own | {"variant": variant, "excepted": {}})

    @property
    def last(self) -> int:
        """The number of the last step, 0 if there is none."""
        return max([s.number for s in self.steps], default=0)

    @property
    def lexicon(self) -> Lexicon:
        """The lexicon of the progression's accent."""
        return lexicon(lexicon_of(self.accent))

    @cached_property
    def readiness(self) -> Readiness:
        """First steps over the whole lexicon, worked out when they are first asked for."""
        # numpy is slow to load, and explain can do without the vector
        from decodecheck.progression.readiness import Readiness

        return Readiness(self.step_of, self.lexicon, self.tricky)

    @cached_property
    def allowed_words(self) -> frozenset[str]:
        """The words of the names that are allowed, with straight apostrophes."""
        return frozenset(word for name in self.names for word in name.replace("’", "'").split())

    @cached_property
    def _squeezed_sounds(self) -> frozenset[str]:
        return frozenset(map(_squeezed, self.sounds))

    def allows(self, form: str, plain: str) -> bool:
        """Whether a form may stand in a text at every step, as a name or a sound-word; `plain` is its plain spelling.

        A name is told by its capital, and may take 's (Tilda's) or stand all in capitals; a sound may be drawn out (brrrrr).
        """
        if form[:1].isupper():
            straight = form.replace("’", "'")
            if straight in self.allowed_words or straight.removesuffix("'s").removesuffix("'") in self.allowed_words:
                return True
            if form.isupper() and straight.capitalize() in self.allowed_words:
                return True
        if plain in self.sounds:
            return True
        return STRETCHED.search(plain) is not None and _squeezed(plain) in self._squeezed_sounds

    def goes_by_items(self, word: str) -> bool:
        """Whether nothing but the steps of its items decides on a plain lower-case word, capitals aside: it is not allowed, and no
        reading is pinned that it may rest on. Where that is in doubt, it does not.

        The first step of such a word is that of `readiness`, unless a tricky word is in it (`readiness.touched`).
        """
        return not (
            word in self._spoken_of
            or ("'" in word and word.rpartition("'")[0] in self._spoken_of)
            or (self.pinned and word.startswith(self._pinned_stems))
            or (self.sounds and STRETCHED.search(word))
        )

    @cached_property
    def _spoken_of(self) -> frozenset[str]:
        """Plain words that `allows` may let pass."""
        return frozenset(word.lower() for word in self.allowed_words) | self.sounds

    @cached_property
    def _pinned_stems(self) -> tuple[str, ...]:
        """What forms of pinned words begin with: their last letter may be dropped or become another one."""
        return tuple(word.lower()[:-1] for word in self.pinned)

    def step_of(self, item: Item) -> int:
        """The first step at which an item holds; NEVER if it is never taught."""
        step = self.item_step.get(item)
        if step is not None:
            return step
        kind = item.kind
        if kind == SHAPE:
            return self._shape_step(item.name)
        if kind == ADJACENT:
            run = item.run
            return max((s for named, s in self._adjacent if _holds(run, named)), default=0)
        if kind == SYLLABLES:
            number = item.number
            return max((s for n, s in self._syllables if n <= number), default=0)
        if kind == SINGLE:
            return NEVER if item.correspondence in self._named else self.doubled_from
        if kind == UNNAMED:
            return NEVER if item.correspondence in self._named else 0
        if kind == LETTERS:
            return NEVER if Item.ending(item.name) in self.item_step else 0
        if item is WEAKENED:
            return NEVER if self.weak_exact else 0
        if item is PLAIN_N:
            return NEVER if self._nk_mentioned else 0
        return 0 if kind == PATTERN or item is ALWAYS else NEVER

    @cached_property
    def _adjacent(self) -> list[tuple[tuple[str, ...], int]]:
        return [(item.run, s) for item, s in self.item_step.items() if item.kind == ADJACENT]

    @cached_property
    def _syllables(self) -> list[tuple[int, int]]:
        return [(item.number, s) for item, s in self.item_step.items() if item.kind == SYLLABLES]

    @cached_property
    def _named(self) -> frozenset[tuple[str, Sound]]:
        """Every correspondence that is mentioned, at whatever place and step."""
        return frozenset(item.correspondence for item in self.item_step if item.kind == GPC)

    @cached_property
    def _nk_mentioned(self) -> bool:
        named = any(item.kind == TOGETHER and item.name == "nk" for item in self.item_step)
        return named or ("n", ("ng",)) in self._named

    @cached_property
    def _shapes(self) -> list[tuple[int, int, int]]:
        """Named structures of one syllable as (consonants before, consonants after, step)."""
        found = []
        for item, step in self.item_step.items():
            match = MONOSYLLABLE.match(item.name) if item.kind == SHAPE else None
            if match:
                found.append((len(match[1]), len(match[2]), step))
        return found

    def _shape_step(self, pattern: str) -> int:
        """A structure that is not named waits for the named ones that it holds: CCVCC for CCVC and CVCC.

        In longer words only adjacent consonants at the start and at the end count.
        """
        match = MONOSYLLABLE.match(pattern)
        if match:
            before, after = len(match[1]), len(match[2])
            return max((s for b, a, s in self._shapes if b <= before and a <= after), default=0)
        first, last = pattern.find("V"), pattern.rfind("V")
        before, after = first, len(pattern) - last - 1
        waits = [
            s
            for b, a, s in self._shapes
            if (b > 1 or a > 1) and (b < 2 or b <= before) and (a < 2 or a <= after) and pattern.count("V") > 1
        ]
        return max(waits, default=0)

    def unit_step(self, unit: Unit) -> int:
        """The first step at which a unit can be read."""
        step = self._unit_step.get(unit)
        if step is None:
            step = min(max(map(self.step_of, a), default=0) for a in unit.alternatives)
            self._unit_step[unit] = step
        return step

    def missing(self, unit: Unit, step: int) -> list[Item]:
        """The untaught items of a unit's cheapest alternative at a step: the one soonest complete, then the one without a shut
        guard, then the word's own division."""

        def price(number: int) -> tuple[int, int, bool, int]:
            alternative = unit.alternatives[number]
            steps = [self.step_of(item) for item in alternative]
            shut = sum(s == NEVER and (item.guard or item is IRREGULAR) for item, s in zip(alternative, steps))
            return max(steps, default=0), shut, number > 0, sum(s > step for s in steps)

        best = unit.alternatives[min(range(len(unit.alternatives)), key=price)]
        return [item for item in best if self.step_of(item) > step]

    def reading_step(self, reading: Reading) -> int:
        """The first step at which a reading can be read."""
        return max(map(self.unit_step, reading.units), default=0)

    def known_step(self, word: str, reading: Reading) -> int:
        """The first step at which a reading of a word is known where tricky words count, too: the word itself, or a known word
        in it with an ending or in a compound (friends, someone)."""
        whole = min(self.tricky.get(word, NEVER), self.reading_step(reading))
        parts = [self.known_step(part.word, part.reading) for part in reading.parts]
        if all(step == self.reading_step(part.reading) for step, part in zip(parts, reading.parts)):
            return whole
        # a word known whole has no structure to be held back by
        covered = {n for part in reading.parts for n in range(part.first, part.last + 1)}
        rest = [self.unit_step(unit) for n, unit in enumerate(reading.units) if n and n not in covered]
        return min(whole, max([*rest, *parts]))

    def rests_on(self, word: str, reading: Reading) -> str:
        """The tricky word that decides from which step a reading is known: the word itself or one in it; "" where none does."""
        step = self.known_step(word, reading)
        if step == NEVER:
            return ""
        if self.tricky.get(word) == step:
            return word
        inside = (p for p in reading.parts if self.known_step(p.word, p.reading) == step)
        return next((found for p in inside if (found := self.rests_on(p.word, p.reading))), "")

    def units_known(self, reading: Reading, step: int) -> frozenset[int]:
        """The places of units that tricky words cover by a step: those of known words in a word, and then its structure."""
        known = [p for p in reading.parts if self.known_step(p.word, p.reading) <= step < self.reading_step(p.reading)]
        return frozenset(n for p in known for n in (0, *range(p.first, p.last + 1)))


def _squeezed(word: str) -> str:
    return STRETCHED.sub(r"\1", word.replace("-", ""))


def _holds(run: tuple[str, ...], named: tuple[str, ...]) -> bool:
    """Does a run of consonant graphemes hold another: s t r holds s t, n th does not hold n t."""
    return any(run[i : i + len(named)] == named for i in range(len(run) - len(named) + 1))
