"""Which graphemes have been taught for a sound."""

from __future__ import annotations

from decodecheck.lexicon.items import Item
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import project
from decodecheck.progression.meanings import everyday_first
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.columns import PLACES

Heard = tuple[str, ...]
"""The sounds of a grapheme in IPA."""


def taught_spellings(order: TeachingOrder, step: int) -> dict[Heard, tuple[str, ...]]:
    """For each sound in the accent of an order, the graphemes that have been taught for it by a step, the commonest first."""
    found: dict[Heard, dict[str, None]] = {}
    for c in sorted(inventory().all, key=everyday_first):
        if c.sound and any(order.step_of(Item.gpc(c.grapheme, c.sound, place)) <= step for place in PLACES):
            found.setdefault(project(c.grapheme, c.sound, False, order.accent), {})[c.grapheme] = None
    return {heard: tuple(graphemes) for heard, graphemes in found.items()}
