"""Where a closed compound divides, and where a first or last part (un-, -ful) stands beside a known word."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Protocol

from decodecheck.lexicon.endings import loose
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

SHORT_HALVES = frozenset(("up", "in", "on", "to", "by", "no", "so", "be", "my", "go", "do"))
"""Two-letter words that make compounds (into, upon, makeup)."""

Halves = tuple[int, int, bool, str, str]
"""Letter and token at which a word divides, whether an r links the halves (earache), and how each half is said by itself
("" for a part that is no word)."""


class Known(Protocol):
    """The words that a compound may be made of."""

    def known(self, word: str) -> Sequence[str]:
        """Pronunciations of a known word in its everyday senses; none for an unknown one."""

    def common(self, word: str) -> bool:
        """Is the word common enough to be a half of a compound?"""

    def rank(self, word: str) -> float:
        """How common the word is."""


@cache
def suffixes() -> dict[str, tuple[str, ...]]:
    """Final parts of words that are no endings a progression names (ment, less): letters to pronunciations."""
    return _parts("-")


@cache
def prefixes() -> dict[str, tuple[str, ...]]:
    """First parts of words (un, inter), likewise."""
    return _parts("")


def _parts(lead: str) -> dict[str, tuple[str, ...]]:
    return {
        row["letters"].strip("-"): tuple(p.strip() for p in row["pronunciations"].split("|"))
        for row in read_table(rules_folder() / "word_parts.tsv")
        if row["letters"].startswith("-") == bool(lead)
    }


@cache
def not_compounds() -> frozenset[str]:
    """Words that only look and sound like two (program), and words that never open (con-) or close (-in) a compound."""
    return frozenset(row["word"] for row in read_table(rules_folder() / "not_compounds.tsv"))


@cache
def weakened_compounds() -> dict[str, tuple[str, str]]:
    """Compounds in which a half has lost its full vowel (nobody, maybe): word to halves."""
    return {row["word"]: (row["left"], row["right"]) for row in read_table(rules_folder() / "compounds.tsv")}


def compound(word: str, pronunciation: str, words: Known) -> Halves | None:
    """Where a closed compound divides: both halves are common words, or one is and the other a known part, whose sounds add up.

    Of several ways, the one whose rarer half is the commonest: back+side, not backs+ide.
    """
    if word in weakened_compounds():
        return _weakened(word, pronunciation, words)
    if word in not_compounds():
        return None
    sound = loose(pronunciation)
    best: tuple[float, Halves] | None = None
    for at in range(2, len(word) - 1):
        left, right = word[:at], word[at:]
        heads = list(_half(left, f"{left}-", prefixes(), words))
        if not heads:
            continue
        tails = list(_half(right, f"-{right}", suffixes(), words))
        rank = min(words.rank(half) for half in (left, right) if words.known(half)) if heads and tails else 0.0
        for one, own_left in heads:
            if not sound.startswith(loose(one)):
                continue
            for other, own_right in tails:
                for joint in ("", " r"):
                    if loose(f"{one}{joint} {other}") == sound and (own_left or own_right):
                        length = len(one.split(" ")) + bool(joint)
                        found = (at, length, bool(joint), one if own_left else "", other if own_right else "")
                        if best is None or rank > best[0]:
                            best = (rank, found)
    return best[1] if best else None


def _half(letters: str, name: str, parts: dict[str, tuple[str, ...]], words: Known) -> Iterator[tuple[str, bool]]:
    """How a half may be said, and whether as a word of its own."""
    if letters in parts:
        yield from ((said, False) for said in parts[letters])
    elif name not in not_compounds() and (len(letters) > 2 or letters in SHORT_HALVES) and words.common(letters):
        yield from ((said, True) for said in words.known(letters))


def _weakened(word: str, pronunciation: str, words: Known) -> Halves | None:
    left, right = weakened_compounds()[word]
    for one in words.known(left):
        length = len(one.split(" "))
        if loose(" ".join(pronunciation.split(" ")[:length])) == loose(one) and words.known(right):
            return len(left), length, False, one, words.known(right)[0]
    return None
