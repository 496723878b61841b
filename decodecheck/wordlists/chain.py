"""Chains of words in which each changes, adds or drops exactly one sound."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from decodecheck.errors import Problem, UserError, count
from decodecheck.judging.judge import judge_at
from decodecheck.judging.verdict import DECODABLE, UNSURE, Verdict
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.progression.order import TeachingOrder
from decodecheck.source import shown
from decodecheck.wordlists.pool import Pool, SpokenWord
from decodecheck.wordlists.sound_sequences import Change, Neighbourhood, apart, change
from decodecheck.wordlists.spoken import Sounds

MOST = 100
"""The longest chain that is made."""
_TRIES = 20_000
"""How many words are tried before a chain of a wanted length is given up."""
_MADE = 150
"""How much rather than a word that is made of another (cats) one is taken that is not, in hundredths of the Zipf scale."""


@dataclass(frozen=True, slots=True)
class Chain:
    """A chain: its words, and what happens from each to the next."""

    order: TeachingOrder
    step: int
    words: tuple[SpokenWord, ...]
    changes: tuple[Change, ...]


class NotDecodable(Exception):
    """A word that was named cannot be decoded at the step; `verdict` says why."""

    def __init__(self, word: str, verdict: Verdict) -> None:
        super().__init__(word)
        self.word, self.verdict = word, verdict


class Chains:
    """Makes chains of words that are decodable at a step of a teaching order."""

    def __init__(self, order: TeachingOrder, step: int, *, heteronyms: bool = False) -> None:
        self.order, self.step = order, step
        self.pool = Pool(order, step, heteronyms=heteronyms)

    def between(self, first: str, last: str) -> Chain:
        """The shortest chain from one word to another; of several, the one with the fewest graphemes that change beside the one
        whose sound does, then with the commonest words.

        Raises UserError where a word cannot be used or there is no chain (then with the nearest word that can be reached), and
        NotDecodable for a word that is not decodable.
        """
        starts, ends = self._named(first), self._named(last)
        if any(start.sounds == end.sounds for start in starts for end in ends):
            same = starts[0].word == ends[0].word
            what = f"{first} and {last} are the same word." if same else f"{first} and {last} sound the same."
            raise UserError(Problem("chain", what, "Name two words that sound differently."))
        lengths = [max(len(w.sounds) for w in named) for named in (starts, ends)]
        most = max(lengths) + 1
        reached = self._reached(starts, ends, most)
        arrived = [reached[end] for end in ends if end in reached]
        # a longer word costs so many changes on the way to it and back
        if not arrived or len(arrived[0].path()) - 1 > 2 * (most + 1) - sum(lengths):
            reached = self._reached(starts, ends, None)
            arrived = [reached[end] for end in ends if end in reached]
        if not arrived:
            raise UserError(self._out_of_reach(first, last, list(reached), ends))
        return self._chain(min(arrived, key=lambda a: (a.cost, a.word.word)).path())

    def _reached(
        self, starts: list[SpokenWord], ends: list[SpokenWord], most: int | None
    ) -> dict[SpokenWord, _Arrived]:
        near = Neighbourhood(dict.fromkeys([*self.pool.words(most), *starts, *ends]))
        return _reached(near, starts, {end.sounds for end in ends}, self.order.accent)

    def of_length(self, first: str, length: int, seed: int = 0) -> Chain:
        """A chain of so many words that begins with one; the same seed makes the same chain. No word, and no sequence of sounds, comes
        twice. Common words, and changes of one grapheme only, are more likely.

        Raises UserError where there is none, and NotDecodable.
        """
        if not 2 <= length <= MOST:
            raise UserError(Problem("--length", f"A chain has 2 to {MOST} words.", f"Ask for 2 to {MOST}."))
        starts = self._named(first)
        best: list[SpokenWord] = []
        for most in (len(starts[0].sounds) + 1, None):
            near = Neighbourhood(dict.fromkeys([*self.pool.words(most), *starts]))
            best = max(best, _wander(near, starts[0], length, Random(seed), self.order.accent), key=len)
            if len(best) == length:
                break
        if len(best) < length:
            raise UserError(self._too_short(first, best, length))
        return self._chain(best)

    def _chain(self, words: Sequence[SpokenWord]) -> Chain:
        changes = tuple(change(one, other, self.order.accent) for one, other in pairwise(words))
        return Chain(self.order, self.step, tuple(words), changes)

    # -- what does not work --------------------------------------------------------------------------------------------

    def _named(self, form: str) -> list[SpokenWord]:
        """What a named word says. Raises UserError or NotDecodable where it cannot be used."""
        plain = plain_spelling(form).plain
        if not plain.isalpha():
            what = f"{shown(form)} does not consist of letters only." if plain.strip() else "This is no word."
            raise UserError(Problem("chain", what, "Name words of letters only."))
        verdict = judge_at(self.order, self.step).judge(form)
        if verdict.unlisted:
            what = f"{shown(form)} is not in the lexicon."
            raise UserError(Problem("chain", what, "Check the spelling, or give its reading in the progression."))
        if verdict.status == UNSURE and not self.pool.heteronyms:
            what = f"{form} is said in several ways, and not all of them can be decoded at step {self.step}."
            raise UserError(Problem("chain", what, "Name another word, or add --heteronyms."))
        if verdict.status not in (DECODABLE, UNSURE):
            raise NotDecodable(form, verdict)
        found = self.pool.named(plain)
        if not found:
            todo = "Name another word: one that the lexicon lists itself."
            raise UserError(Problem("chain", f"{shown(form)} is known only from other words.", todo))
        if len(found) > 1 and not self.pool.heteronyms:
            senses = " and ".join(f"“{word.sense}”" for word in found)
            what = f"{form} is said in two ways ({senses}), so a chain through it is not clear."
            raise UserError(Problem("chain", what, "Name another word, or add --heteronyms."))
        return found

    def _out_of_reach(self, first: str, last: str, reached: list[SpokenWord], ends: list[SpokenWord]) -> Problem:
        others = [word for word in reached if plain_spelling(first).plain != word.word]
        what = f"There is no chain from {first} to {last} with words that can be decoded at step {self.step}."
        if not others:
            todo = (
                f"No such word is one sound apart from {first}. Begin with another word{self._or_later(', or take')}."
            )
            return Problem("chain", what, todo, code="no-chain")
        nearest = min(others, key=lambda w: (min(apart(w.sounds, e.sounds) for e in ends), -w.likely, w.word))
        left = min(apart(nearest.sounds, e.sounds) for e in ends)
        todo = (
            f"The nearest word that can be reached is {nearest.word}, {count(left, 'sound')} from {last}: "
            f"try `decodecheck chain {first} {nearest.word}`{self._or_later(', or')}."
        )
        return Problem("chain", what, todo, code="no-chain")

    def _or_later(self, before: str) -> str:
        """The advice to take a later step, where there is one."""
        return f"{before} a later step" if self.step < self.order.last else ""

    def _too_short(self, first: str, best: Sequence[SpokenWord], length: int) -> Problem:
        what = f"No chain of {length} words from {first} was found with words that can be decoded at step {self.step}."
        if len(best) < 2:
            todo = (
                f"No such word is one sound apart from {first}. Begin with another word{self._or_later(', or take')}."
            )
        else:
            todo = (
                f"The longest found has {len(best)} words: ask for --length {len(best)}{self._or_later(', or take')}."
            )
        return Problem("chain", what, todo, code="no-chain")


@dataclass(frozen=True, slots=True)
class _Arrived:
    """A word that has been reached: by which word before, and how many graphemes changed on the way beside those whose sounds did,
    and how uncommon its words are together."""

    word: SpokenWord
    cost: tuple[int, int]
    before: _Arrived | None

    def path(self) -> list[SpokenWord]:
        """The chain that leads here."""
        found, at = [self.word], self.before
        while at is not None:
            found.append(at.word)
            at = at.before
        return found[::-1]


def _reached(
    near: Neighbourhood, starts: Sequence[SpokenWord], ends: set[Sounds], accent: str
) -> dict[SpokenWord, _Arrived]:
    """The words that can be reached, in as few changes as possible, up to those in which an end is first reached."""
    found = {start: _Arrived(start, (0, 0), None) for start in starts}
    layer = list(found.values())
    while layer and not any(arrived.word.sounds in ends for arrived in layer):
        new: dict[SpokenWord, _Arrived] = {}
        for at in layer:
            for word in near.next_to(at.word.sounds):
                if word in found:
                    continue
                respelt = len(change(at.word, word, accent).respelt)
                cost = at.cost[0] + respelt, at.cost[1] + _uncommon(word)
                if word not in new or cost < new[word].cost:
                    new[word] = _Arrived(word, cost, at)
        found |= new
        layer = list(new.values())
    return found


def _uncommon(word: SpokenWord) -> int:
    return 1000 - word.likely + _MADE * word.made


def _wander(near: Neighbourhood, start: SpokenWord, length: int, random: Random, accent: str) -> list[SpokenWord]:
    """A chain of so many words, or the longest that was found in a number of tries."""

    def onward(word: SpokenWord) -> list[SpokenWord]:
        weighed = []
        for other in near.next_to(word.sounds):
            weight = 2 ** (-_uncommon(other) / 100) / (1 + 4 * len(change(word, other, accent).respelt))
            # drawn one after the other with these weights (Efraimidis and Spirakis, 2006)
            weighed.append((math.log(1 - random.random()) / weight, other.word, other))
        # the likeliest last: they are taken from the end
        return [other for _, _, other in sorted(weighed, key=lambda w: w[:2])]

    path, best = [start], [start]
    waiting = [onward(start)]
    tries = 0
    while waiting and len(best) < length and tries < _TRIES:
        if not waiting[-1]:
            waiting.pop()
            path.pop()
            continue
        word = waiting[-1].pop()
        if any(word.sounds == other.sounds or word.word == other.word for other in path):
            continue
        tries += 1
        path.append(word)
        if len(path) > len(best):
            best = list(path)
        waiting.append(onward(word) if len(path) < length else [])
    return best
