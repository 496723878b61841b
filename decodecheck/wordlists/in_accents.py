"""In which other accents a word of a list cannot be read yet: *bath* with the *a* of *cat* alone, in the south of England."""

from __future__ import annotations

from collections.abc import Iterable

from decodecheck.lexicon.lookup import Lookup
from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.first_steps import by_sense
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve


def unread_in(order: TeachingOrder, step: int, words: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """For plain words that can be read at a step: the accents in which they cannot, if the progression is read as one for that accent.

    An accent in which the progression cannot be read is left out of account.
    """
    found: dict[str, tuple[str, ...]] = {}
    others = [(accent, other) for accent in ACCENTS if accent != order.accent and (other := _in_accent(order, accent))]
    lookups = {accent: Lookup(accent, other.pinned) for accent, other in others}
    for word in words:
        late = []
        for accent, other in others:
            readings = lookups[accent].readings(word)
            if readings and max((s for _, s in by_sense(other, readings)), default=NEVER) > step:
                late.append(accent)
        if late:
            found[word] = tuple(late)
    return found


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
