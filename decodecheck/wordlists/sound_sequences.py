"""Words as sequences of sounds: which of them are one sound apart, and which sound and grapheme that is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from decodecheck.phonics.sounds import project
from decodecheck.wordlists.pool import SpokenWord
from decodecheck.wordlists.spoken import Sounds

CHANGED, ADDED, DROPPED = "changed", "added", "dropped"


@dataclass(frozen=True, slots=True)
class Change:
    """What makes the next word of a chain out of one: a sound `changed`, `added` or `dropped`.

    `old` and `new` are (grapheme, IPA of the sound), None where there is none; `place` counts the sounds of the word that has the
    sound, from 1. `respelt` are graphemes that change although what they say does not (the ee of see and the ea of sea).
    """

    kind: str
    place: int
    old: tuple[str, str] | None
    new: tuple[str, str] | None
    respelt: tuple[tuple[str, str], ...]


def one_apart(one: Sounds, other: Sounds) -> tuple[str, int] | None:
    """How one sequence becomes another by one sound, and where (from 0); None where it takes none, or more."""
    start = 0
    while start < min(len(one), len(other)) and one[start] == other[start]:
        start += 1
    difference = len(other) - len(one)
    if difference == 0:
        return (CHANGED, start) if start < len(one) and one[start + 1 :] == other[start + 1 :] else None
    if difference == 1:
        return (ADDED, start) if one[start:] == other[start + 1 :] else None
    if difference == -1:
        return (DROPPED, start) if one[start + 1 :] == other[start:] else None
    return None


def apart(one: Sounds, other: Sounds) -> int:
    """How many sounds have to be changed, added or dropped to make one sequence of another."""
    row = list(range(len(other) + 1))
    for i, sound in enumerate(one, 1):
        before, row[0] = row[0], i
        for j, wanted in enumerate(other, 1):
            before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (sound != wanted))
    return row[-1]


def change(one: SpokenWord, other: SpokenWord, accent: str) -> Change:
    """What happens from one word of a chain to the next. Raises ValueError where they are not one sound apart."""
    found = one_apart(one.sounds, other.sounds)
    if found is None:
        raise ValueError(f"{one.word} and {other.word} are not one sound apart")
    kind, at = found
    before, after = _spelt(one, accent), _spelt(other, accent)
    old = (before[at][0], one.sounds[at]) if kind != ADDED else None
    new = (after[at][0], other.sounds[at]) if kind != DROPPED else None
    rest_before = [s for i, s in enumerate(before) if kind == ADDED or i != at]
    rest_after = [s for i, s in enumerate(after) if kind == DROPPED or i != at]
    respelt = [(a, b) for (a, _), (b, _) in zip(rest_before, rest_after) if a != b]
    return Change(kind, at + 1, old, new, tuple(dict.fromkeys(respelt)))


def _spelt(word: SpokenWord, accent: str) -> list[tuple[str, int]]:
    """For each sound, the grapheme that says it, and which that is."""
    return [
        (grapheme, number)
        for number, (grapheme, sound, linked, _) in enumerate(word.forms)
        for _ in project(grapheme, sound, linked, accent)
    ]


class Neighbourhood:
    """Words by what they sound like when one sound is left open, so that those one sound apart are found at once."""

    def __init__(self, words: Iterable[SpokenWord]) -> None:
        self.by_sounds: dict[Sounds, list[SpokenWord]] = defaultdict(list)
        for word in words:
            self.by_sounds[word.sounds].append(word)

    @cached_property
    def _open(self) -> dict[tuple[Sounds, Sounds], list[Sounds]]:
        """Sequences by what stands before and after any one of their sounds."""
        found: dict[tuple[Sounds, Sounds], list[Sounds]] = defaultdict(list)
        for sounds in self.by_sounds:
            for i in range(len(sounds)):
                found[sounds[:i], sounds[i + 1 :]].append(sounds)
        return found

    def next_to(self, sounds: Sounds) -> Iterator[SpokenWord]:
        """All words one sound apart from a sequence, each once."""
        seen = {sounds}
        for i in range(len(sounds) + 1):
            before = sounds[:i]
            # one sound more
            near = list(self._open.get((before, sounds[i:]), ()))
            if i < len(sounds):
                shorter = before + sounds[i + 1 :]
                near += self._open.get((before, sounds[i + 1 :]), ())
                near += [shorter] if shorter in self.by_sounds else []
            for other in near:
                if other not in seen:
                    seen.add(other)
                    yield from self.by_sounds[other]
