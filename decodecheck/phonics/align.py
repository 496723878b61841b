"""Align a spelling with its sounds: the cheapest way to cover the letters once, in order, with correspondences.

A least-cost path over (letter, token). Costs are set by hand in the inventory. A split digraph is one step of the path
together with the consonant grapheme it encloses, so that the path stays in letter order. A correspondence that the
inventory does not list is possible at a high cost and is marked irregular.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from decodecheck.phonics.inventory import Correspondence, inventory
from decodecheck.phonics.sounds import BRITISH, Sound, is_vowel, reference_accent, sound_codes, tokens

VOWEL_LETTERS = frozenset("aeiouy")
IRREGULAR_COST = 70
IRREGULAR_TOKEN = 15
IRREGULAR_MOST = 4
"""An unlisted letter costs IRREGULAR_COST, and IRREGULAR_TOKEN more for each sound it stands for, up to four."""
GUIDE_DISCOUNT = 3
UNKNOWN_BASE_COST = 15


@dataclass(frozen=True, slots=True)
class Segment:
    """One grapheme of a word: its letters by position, what it says, and whether the inventory lists it.

    `linked` marks an r-vowel whose r is sounded before a vowel (hearing). `weak` marks an unstressed sound.
    """

    grapheme: str
    sound: Sound
    linked: bool
    irregular: bool
    letters: tuple[int, ...]
    weak: bool = False

    @property
    def key(self) -> str:
        """The correspondence as in `Correspondence.key`."""
        return f"{self.grapheme}|{'+'.join(self.sound)}"


@dataclass(frozen=True, slots=True)
class _Step:
    """What one step of the path may consume: letters, tokens, and the correspondences it stands for."""

    parts: tuple[Correspondence, ...]
    linked: bool
    tokens: tuple[str, ...]
    cost: int
    place: str
    letter_sound: bool  # an r-vowel that is weak: see `_links`


@cache
def _steps(lexicon: str) -> dict[str, list[_Step]]:
    """All steps by the letters they consume."""
    accent = reference_accent(lexicon)
    found: dict[str, list[_Step]] = {}

    def add(letters: str, step: _Step) -> None:
        found.setdefault(letters, []).append(step)

    consonants = [
        c
        for c in inventory().all
        if not c.split
        and not c.vowel
        and c.sound
        and not c.place
        and len(set(c.grapheme)) == len(c.grapheme)
        and c.grapheme[-1:] != "u"
    ]
    for c in inventory().all:
        plain = tokens(c.sound, False, accent)
        if c.split:
            head, tail = c.grapheme.split("-")
            for inner in consonants:
                add(
                    head + inner.grapheme + tail,
                    _Step(
                        (c, inner),
                        False,
                        plain + tokens(inner.sound, False, accent),
                        c.cost + inner.cost,
                        c.place or "split",
                        False,
                    ),
                )
            continue
        add(c.grapheme, _Step((c,), False, plain, c.cost, c.place, False))
        if lexicon == BRITISH and c.sound and sound_codes()[c.sound[-1]].links:
            weak = c.sound[-1] == "LETTER"
            add(c.grapheme, _Step((c,), True, tokens(c.sound, True, accent), c.cost, c.place and "linking", weak))
        elif lexicon != BRITISH and c.sound and c.sound[-1] == "LETTER":
            # the same rule for the sounded r: a-round, not ar-ound
            found[c.grapheme][-1] = _Step((c,), False, plain, c.cost, c.place, True)
    return found


@cache
def _longest(lexicon: str) -> int:
    return max(map(len, _steps(lexicon)))


@cache
def _vowel_tokens(lexicon: str) -> frozenset[str]:
    accent = reference_accent(lexicon)
    return frozenset(code.ipa[accent][0] for code in sound_codes().values() if code.vowel)


@cache
def _default_code(lexicon: str) -> dict[str, str]:
    """The first sound code written as a token: what an unlisted letter is taken to say."""
    accent = reference_accent(lexicon)
    found: dict[str, str] = {}
    for code in sound_codes().values():
        if len(code.ipa[accent]) == 1:
            found.setdefault(code.ipa[accent][0], code.code)
    if lexicon != BRITISH:
        found.setdefault("ɜ", "HURRY")
    return found


@dataclass(frozen=True, slots=True)
class Alignment:
    """A segmented word: segments in the order of their sounds, and the cost of the path."""

    segments: tuple[Segment, ...]
    cost: int

    @property
    def irregular(self) -> bool:
        """Does any segment lie outside the inventory?"""
        return any(s.irregular for s in self.segments)


def align(
    spelling: str,
    sounds: Sequence[str],
    stresses: Sequence[bool],
    lexicon: str,
    *,
    joins: Mapping[int, int] | None = None,
    endings: frozenset[int] = frozenset(),
    guide: frozenset[tuple[int, int]] = frozenset(),
) -> Alignment | None:
    """Align lower-case letters with tokens of a pronunciation.

    `sounds` and `stresses` come from `split_stress`. `joins` maps letter positions where word parts meet to token
    positions; no grapheme crosses them. `endings` are the letter positions at which -ed and -es may stand as endings.
    `guide` holds letter spans favoured where all else is nearly equal. Letters outside the inventory are tried only where
    the inventory alone finds no way. Returns None where even they do not fit (more than four sounds for a letter).
    """
    problem = _Problem(spelling, tuple(sounds), tuple(stresses), lexicon, joins or {}, endings, guide)
    return problem.solve(irregular=False) or problem.solve(irregular=True)


_State = tuple[int, int, int, int, _Step | None]
"""Cost, number of segments, the letter and token we came from, and the step taken (None: an unlisted letter)."""


@dataclass(frozen=True, slots=True)
class _Problem:
    spelling: str
    sounds: tuple[str, ...]
    stresses: tuple[bool, ...]
    lexicon: str
    joins: Mapping[int, int]
    endings: frozenset[int]
    guide: frozenset[tuple[int, int]]

    def solve(self, irregular: bool) -> Alignment | None:
        n, m = len(self.spelling), len(self.sounds)
        reached: list[dict[int, _State]] = [{} for _ in range(n + 1)]
        reached[0][0] = (0, 0, 0, 0, None)
        for i in range(n):
            if reached[i]:
                self._listed(i, reached)
                if irregular:
                    self._unlisted(i, reached)
        return self._trace(reached) if m in reached[n] else None

    def _listed(self, i: int, reached: list[dict[int, _State]]) -> None:
        """Take every step of the inventory from letter i."""
        steps, spelling, sounds, joins = _steps(self.lexicon), self.spelling, self.sounds, self.joins
        n, m = len(spelling), len(sounds)
        limit = min((join for join in joins if join > i), default=n)
        for length in range(1, min(_longest(self.lexicon), limit - i) + 1):
            end = i + length
            options = steps.get(spelling[i:end])
            if not options:
                continue
            at_join = end == n or end in joins
            following = "" if end == n else spelling[end]
            discount = GUIDE_DISCOUNT if (i, end) in self.guide else 0
            for step in options:
                extra = 0
                if step.place and not self._fits(step.place, at_join, following, i):
                    # -ed at the end of a word whose base is not known (deceased) rather than a silent e
                    if step.place != "ending" or end != n or step.parts[0].grapheme != "ed":
                        continue
                    extra = UNKNOWN_BASE_COST
                width = len(step.tokens)
                for j, state in reached[i].items():
                    stop = j + width
                    if stop > m or sounds[j:stop] != step.tokens or joins.get(end, stop) != stop:
                        continue
                    if (step.linked or step.letter_sound) and not self._links(step, stop, end in joins):
                        continue
                    cost = state[0] + step.cost + extra - discount
                    _offer(reached[end], stop, (cost, state[1] + len(step.parts), i, j, step))

    def _fits(self, place: str, at_join: bool, following: str, i: int) -> bool:
        """Does the inventory's condition of place hold? A final e before -s still ends its part of the word."""
        if place == "ending":
            return i in self.endings
        if at_join:
            return True
        if place == "final":
            return following == "s"
        return place != "linking" and following not in VOWEL_LETTERS

    def _links(self, step: _Step, stop: int, at_join: bool) -> bool:
        """May an r-vowel take the r here? Only before a vowel; a weak one not before a stressed vowel (a-round)."""
        before_vowel = stop < len(self.sounds) and self.sounds[stop] in _vowel_tokens(self.lexicon)
        if step.linked and not before_vowel:
            return False
        return not (step.letter_sound and before_vowel and self.stresses[stop] and not at_join)

    def _unlisted(self, i: int, reached: list[dict[int, _State]]) -> None:
        """Let the letter i stand for nothing, or for up to four sounds, at a high cost."""
        default, end = _default_code(self.lexicon), i + 1
        for j, state in reached[i].items():
            for width in range(min(IRREGULAR_MOST, len(self.sounds) - j) + 1):
                stop = j + width
                if self.joins.get(end, stop) != stop or any(t not in default for t in self.sounds[j:stop]):
                    continue
                cost = state[0] + IRREGULAR_COST + IRREGULAR_TOKEN * width
                _offer(reached[end], stop, (cost, state[1] + 1, i, j, None))

    def _trace(self, reached: list[dict[int, _State]]) -> Alignment:
        i, j = len(self.spelling), len(self.sounds)
        total = reached[i][j][0]
        segments: list[Segment] = []
        while i:
            _, _, start, first, step = reached[i][j]
            weak = not any(self.stresses[first:j])
            if step is None:
                default = _default_code(self.lexicon)
                sound = tuple(default[t] for t in self.sounds[first:j])
                segments.append(Segment(self.spelling[start:i], sound, False, True, (start,), weak))
            else:
                segments += reversed(_segments(step, start, i, weak))
            i, j = start, first
        return Alignment(tuple(reversed(segments)), total)


def _offer(states: dict[int, _State], at: int, new: _State) -> None:
    old = states.get(at)
    if old is None or new[:2] < old[:2]:
        states[at] = new


def _segments(step: _Step, start: int, end: int, weak: bool) -> list[Segment]:
    if len(step.parts) == 1:
        c = step.parts[0]
        return [Segment(c.grapheme, c.sound, step.linked, False, tuple(range(start, end)), weak)]
    outer, inner = step.parts
    head = outer.grapheme.index("-")
    tail = len(outer.grapheme) - head - 1
    outer_letters = (*range(start, start + head), *range(end - tail, end))
    return [
        Segment(outer.grapheme, outer.sound, False, False, outer_letters, weak),
        Segment(inner.grapheme, inner.sound, False, False, tuple(range(start + head, end - tail)), True),
    ]


@cache
def _rivals(lexicon: str) -> dict[tuple[str, tuple[str, ...]], list[Correspondence]]:
    """Correspondences of one grapheme that sound alike in a lexicon's accent (the a of bath and of father)."""
    accent = reference_accent(lexicon)
    found: dict[tuple[str, tuple[str, ...]], list[Correspondence]] = {}
    for c in inventory().all:
        found.setdefault((c.grapheme, tokens(c.sound, False, accent)), []).append(c)
    return found


def harmonise(
    segments: tuple[Segment, ...], lexicon: str, other: tuple[Segment, ...], other_lexicon: str
) -> tuple[Segment, ...]:
    """Choose, among sounds that one accent does not tell apart, the one that also gives the other accent's sound.

    British /bɑːθ/ leaves open whether its vowel is that of *bath* or of *father*; American /bæθ/ decides.
    """
    accent, other_accent = reference_accent(lexicon), reference_accent(other_lexicon)
    by_span = {s.letters: s for s in other}
    result = []
    for segment in segments:
        partner = by_span.get(segment.letters)
        if (
            partner
            and not segment.irregular
            and partner.grapheme == segment.grapheme
            and any(map(is_vowel, segment.sound))
        ):
            rivals = _rivals(lexicon)[segment.grapheme, tokens(segment.sound, False, accent)]
            heard = tokens(partner.sound, False, other_accent)
            fitting = [c for c in rivals if tokens(c.sound, False, other_accent) == heard]
            if fitting and segment.sound not in [c.sound for c in fitting]:
                segment = Segment(
                    segment.grapheme, fitting[0].sound, segment.linked, False, segment.letters, segment.weak
                )
        result.append(segment)
    return tuple(result)
