"""Notes on a progression that is free of mistakes."""

from __future__ import annotations

from decodecheck.errors import Problem
from decodecheck.lexicon.lookup import Lookup
from decodecheck.progression.order import TeachingOrder


def notes(order: TeachingOrder) -> list[Problem]:
    """What may be meant otherwise: tricky words that can be decoded at their step."""
    lookup = Lookup(order.accent, order.pinned)
    found = []
    for word, step in order.tricky.items():
        readings = [r for r in lookup.readings(word) if not r.rare]
        if not readings:
            continue
        senses: dict[str, int] = {}
        for r in readings:
            first = order.reading_step(r)
            senses[r.sense] = min(senses.get(r.sense, first), first)
        ready = max(senses.values())
        if ready <= step:
            path, line, column = order.tricky_places[word]
            found.append(
                Problem(
                    path,
                    f"The tricky word `{word}` can be decoded from step {max(ready, 1)} on.",
                    "It may stay; decodable wins over tricky.",
                    line,
                    column,
                    order.sources[path][line - 1],
                    len(word),
                    note=True,
                )
            )
    return found
