"""Segmentations as people write them, held against those that are accepted."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Sequence
from itertools import product

from decodecheck.lexicon.items import ENDING, TOGETHER, Item
from decodecheck.lexicon.store import Reading
from decodecheck.lexicon.units import Unit
from decodecheck.phonics.inventory import also_accepted
from decodecheck.phonics.inventory import divided as split_key
from decodecheck.wordlists.shown import divided

APART = re.compile(r"[\s/+|·•,.\-–_]+")
SIGNS = "/+|·•,."
"""What is written between graphemes besides blanks and hyphens."""
_MARKS = re.compile(r"['’]")
MOST_STRETCHES = 6


def accepted(readings: Iterable[Reading], taught: Container[Item] = frozenset()) -> list[tuple[str, ...]]:
    """Every accepted segmentation of a word, the program's own of each reading first: its graphemes, without apostrophes and hyphens.

    `taught` are items of a progression: a combination (tion) or an ending (-ing) that it teaches may be written as one, too.
    """
    found: dict[tuple[str, ...], None] = {}
    others: dict[tuple[str, ...], None] = {}
    for reading in readings:
        for nth, way in enumerate(_ways(reading, taught)):
            (others if nth else found)[way] = None
    return list(found | others)


def _ways(reading: Reading, taught: Container[Item]) -> Iterator[tuple[str, ...]]:
    stretches: list[list[tuple[str, ...]]] = []
    for unit in reading.units:
        own = tuple(grapheme for grapheme, _, _, _ in unit.forms)
        if own:
            stretches.append([own, *_as_one(own, unit, taught)])
    few, rest = stretches[:MOST_STRETCHES], [way[0] for way in stretches[MOST_STRETCHES:]]
    for chosen in product(*few):
        yield _plain([g for way in (*chosen, *rest) for g in way])
    for changed in _also([s.key for s in reading.segments]):
        yield _plain([split_key(key)[0] for key in changed])
    yield from _on_the_base(reading, taught)


def _as_one(own: tuple[str, ...], unit: Unit, taught: Container[Item]) -> Iterator[tuple[str, ...]]:
    """A stretch with a combination or an ending in it written as one, where a progression teaches it so."""
    names = {
        item.name.lstrip("-")
        for alternative in unit.alternatives
        for item in alternative
        if item.kind in (ENDING, TOGETHER) and item in taught
    }
    for first in range(len(own)):
        for last in range(first + 2, len(own) + 1):
            whole = "".join(own[first:last])
            if whole in names:
                yield (*own[:first], whole, *own[last:])


def _on_the_base(reading: Reading, taught: Container[Item]) -> Iterator[tuple[str, ...]]:
    """A form divided as its base is, with the ending behind it: h o-e p ed, m a-e k i ng, t ire d."""
    for part in reading.parts[:1]:
        behind = [f[0] for unit in reading.units[part.last + 1 :] for f in unit.forms]
        base = [s.grapheme for s in part.reading.segments]
        if part.first > 1 or not behind or not base:
            continue
        letters = "".join(g.replace("-", "") for g in base)
        silent = base[-1].endswith("e") or any("-" in g for g in base)
        if letters + "".join(behind) == _letters(reading) or silent:
            yield _plain([*base, *behind])
            yield _plain([*base, "".join(behind)])
            if silent and behind[0].startswith("e"):
                yield _plain([*base, behind[0][1:], *behind[1:]])


def _letters(reading: Reading) -> str:
    return "".join(s.grapheme.replace("-", "") for s in reading.segments)


def _also(keys: Sequence[str]) -> Iterator[list[str]]:
    """Other accepted divisions, with one stretch changed or several."""
    waiting, known = [list(keys)], {tuple(keys)}
    while waiting and len(known) < 1 << MOST_STRETCHES:
        now = waiting.pop(0)
        for canonical, other in also_accepted():
            for i in range(len(now) - len(canonical) + 1):
                if tuple(now[i : i + len(canonical)]) == canonical:
                    changed = [*now[:i], *other, *now[i + len(canonical) :]]
                    if tuple(changed) not in known:
                        known.add(tuple(changed))
                        waiting.append(changed)
                        yield changed


def _plain(graphemes: Iterable[str]) -> tuple[str, ...]:
    return tuple(g for g in (_MARKS.sub("", grapheme) for grapheme in graphemes) if g and g != "-")


def _joined(graphemes: Iterable[str]) -> str:
    return "-".join(graphemes)


def as_written(text: str) -> str:
    """A segmentation with one hyphen for whatever is written between graphemes: what two of them are compared by."""
    return APART.sub("-", _MARKS.sub("", text.lower())).strip("-")


def is_right(text: str, readings: Iterable[Reading], taught: Container[Item] = frozenset()) -> bool:
    """Whether a segmentation, as it is written, is an accepted one."""
    return as_written(text) in map(_joined, accepted(readings, taught))


def in_the_manner_of(text: str, reading: Reading) -> str:
    """The program's segmentation of a reading, with what a written one has between its graphemes.

    Where that is a hyphen and the word has a split digraph, which has one of its own, it is a blank.
    """
    ours = divided(reading)
    sign = next((sign for sign in SIGNS if sign in text), "")
    if not sign and " " not in text.strip() and "-" in text and "-" not in ours:
        sign = "-"
    if not sign:
        return ours
    spaced = f" {sign} " in text
    between = f" {sign} " if spaced else f"{sign} " if f"{sign} " in text else sign
    return between.join(ours.split(" "))
