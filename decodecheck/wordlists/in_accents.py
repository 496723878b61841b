"""In which other accents a word of a list cannot be read yet: *bath* with the *a* of *cat* alone, in the south of England."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.first_steps import by_sense, first_steps
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve

MANY = 300
"""From so many words on, it pays to work out the whole lexicon of every accent."""


def unread_in(order: TeachingOrder, step: int, words: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """For plain words that can be read at a step: the accents in which they cannot, if the progression is read as one for that accent.

    An accent in which the progression cannot be read is left out of account.
    """
    found: dict[str, tuple[str, ...]] = {}
    others = [(accent, other) for accent in ACCENTS if accent != order.accent and (other := _in_accent(order, accent))]
    for accent, other in others:
        first_step = first_steps(other).decodable if len(words) > MANY else _one_by_one(other)
        for word in words:
            if step < first_step(word) and first_steps(other).lookup.readings(word):
                found[word] = (*found.get(word, ()), accent)
    return found


def _one_by_one(order: TeachingOrder) -> Callable[[str], int]:
    """From which step a word can be decoded, without the vector."""
    lookup = first_steps(order).lookup
    return lambda word: max((step for _, step in by_sense(order, lookup.readings(word))), default=NEVER)


def _in_accent(order: TeachingOrder, accent: str) -> TeachingOrder | None:
    """A teaching order as if its progression named another accent; None where that cannot be read."""
    key = "in-accent", accent
    known = order.remembered.get(key)
    if isinstance(known, TeachingOrder):
        return known
    text = "\n".join(order.sources[order.path])
    other, problems = resolve(text, order.path, accent)
    if any(not p.note for p in problems):
        return None
    if order.variant:
        # what a group has been taught early, and what has been left out for it
        own, _ = resolve(text, order.path, order.accent)
        changed = {item: step for item, step in order.item_step.items() if own.item_step.get(item) != step}
        other = other.for_group(order.variant)
        other.item_step.update(changed)
    order.remembered[key] = other
    return other
