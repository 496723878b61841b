"""Notes on a progression that is free of mistakes."""

from __future__ import annotations

from decodecheck.errors import Problem
from decodecheck.lexicon.lookup import Lookup
from decodecheck.progression.first_steps import by_sense
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.slips import likely_meant

MOST_MEANT = 3
"""Words that are offered in place of one."""


def notes(order: TeachingOrder) -> list[Problem]:
    """What may be meant otherwise: tricky words that can be decoded at their step or are unknown, titles that stand twice.

    Decodable ones that stand in one line are noted together, at the first of them."""
    lookup = Lookup(order.accent, order.pinned)
    found = []
    decodable: dict[tuple[str, int, int, int], list[str]] = {}  # words of one line with the same steps, noted together
    for word, step in order.tricky.items():
        readings = lookup.readings(word)
        meant = " or ".join(f"`{w}`" for w in likely_meant(word, order.lexicon)[:MOST_MEANT])
        todo = f"Did you mean {meant}? If not, it may stay."
        if not readings:
            if "-" not in word:
                what = f"decodecheck does not know the tricky word `{word}`."
                asked = "Check the spelling. If it is right, leave it as it is."
                found.append(_note(order, word, what, todo if meant else asked))
            continue
        if meant and word not in order.pinned:
            found.append(_note(order, word, f"The tricky word `{word}` is hardly ever written.", todo))
        ready = max(first for _, first in by_sense(order, readings))
        if ready <= step:
            path, line, _ = order.tricky_places[word]
            decodable.setdefault((path, line, max(ready, 1), max(ready, step)), []).append(word)
    for (_, _, ready, step), words in decodable.items():
        named = [f"`{word}`" for word in words]
        one = len(words) == 1
        which = f"word {named[0]}" if one else f"words {', '.join(named[:-1])} and {named[-1]}"
        what = f"The tricky {which} can be decoded from step {ready} on."
        counts = "it counts" if one else "they count"
        found.append(_note(order, words[0], what, f"That does no harm: from step {step} on {counts} as decodable."))
    titles: dict[str, int] = {}
    for head in order.steps:
        same = titles.setdefault(head.title.lower(), head.number) if head.title else head.number
        if same != head.number:
            what = f"Step {head.number} has the title of step {same}."
            excerpt = order.sources[head.path][head.line - 1]
            todo = "A step can be named by its title only if no other has it."
            found.append(Problem(head.path, what, todo, head.line, 1, excerpt, 4, note=True))
    return found


def _note(order: TeachingOrder, word: str, what: str, todo: str) -> Problem:
    path, line, column = order.tricky_places[word]
    return Problem(path, what, todo, line, column, order.sources[path][line - 1], len(word), note=True)
