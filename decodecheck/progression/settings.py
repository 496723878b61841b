"""What statements outside steps set in a teaching order, and how people are told of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from decodecheck.progression.order import TeachingOrder


@dataclass(frozen=True, slots=True)
class Rule:
    """What a brief says of a setting: its label, and a text for the order at a step ("" where there is nothing to say)."""

    label: str
    text: Callable[[TeachingOrder, int], str]


@dataclass(frozen=True, slots=True)
class Value:
    """A setting with one value. `of` gives it in words; `rule` is None where a brief has nothing to say of it.

    `rank` says when a change of it is told: lower ones first, equal ones in the order of the statements.
    """

    label: str
    of: Callable[[TeachingOrder], str]
    rule: Rule | None
    rank: int = 0

    def changes(self, old: TeachingOrder, new: TeachingOrder) -> Iterator[str]:
        """What differs between two progressions, one sentence each."""
        before, after = self.of(old), self.of(new)
        if before != after:
            yield f"{self.label}: {before}, now {after}"


@dataclass(frozen=True, slots=True)
class Words:
    """A setting that lists words. `of` gives them, each with what the progression says of it; `changed` is said of a word of
    which two progressions say something else."""

    label: str
    of: Callable[[TeachingOrder], Mapping[str, object]]
    rule: Rule | None
    changed: str = ""
    rank: int = 2

    def changes(self, old: TeachingOrder, new: TeachingOrder) -> Iterator[str]:
        """What differs between two progressions, one sentence each."""
        before, after = self.of(old), self.of(new)
        if added := sorted(after.keys() - before.keys()):
            yield f"{self.label}, added: {', '.join(added)}"
        if gone := sorted(before.keys() - after.keys()):
            yield f"{self.label}, taken out: {', '.join(gone)}"
        for word in sorted(before.keys() & after.keys()):
            if before[word] != after[word]:
                yield f"{self.changed}: {word}"


Setting = Value | Words


def from_step(label: str, number: Callable[[TeachingOrder], int], said: str, topic: str) -> Value:
    """A setting that is the number of a step, 0 for none. `said` is what a brief says before that step, with `{}` for it."""

    def text(order: TeachingOrder, step: int) -> str:
        return said.format(number(order)) if number(order) > step else ""

    return Value(label, lambda order: str(number(order) or "none"), Rule(topic, text))


def switch(label: str, on: Callable[[TeachingOrder], bool], rank: int = 0) -> Value:
    """A setting that is on or off, of which a brief says nothing."""
    return Value(label, lambda order: "yes" if on(order) else "no", None, rank)


def allowed(label: str, words: Callable[[TeachingOrder], frozenset[str]], topic: str) -> Words:
    """A setting that lets words stand in a text at any step."""
    rule = Rule(topic, lambda order, _: ", ".join(sorted(words(order))))
    return Words(label, lambda order: dict.fromkeys(words(order), True), rule)
