"""The columns of the compiled lexicon that tell which words mean nearly the same (`lexicon/meanings.py`)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

import numpy as np

from decodecheck.lexicon.meanings import CATEGORIES, MOST_TAGGED
from decodecheck.tables import read_table

MEANT = {
    "animal": ("noun.animal",),
    "body": ("noun.body",),
    "clothes": ("noun.artifact",),
    "family": ("noun.person",),
    "food": ("noun.food", "noun.plant"),
    "home": ("noun.artifact",),
    "people": ("noun.person",),
    "transport": ("noun.artifact",),
}
"""The broad categories in which a word of home and school is meant, by its topic in `child/everyday.tsv`."""
EVERYDAY_SHARE = 80
"""How many of a hundred uses of such a word are taken to be of that sense, where WordNet puts another one first."""


@dataclass
class _Set:
    category: int
    entries: list[int] = field(default_factory=list)
    wider: list[int] = field(default_factory=list)
    near: list[int] = field(default_factory=list)


class _Entry(NamedTuple):
    """A word in a set: its number, the set, the number of the sense, the share of it in a hundred uses, how often it was met."""

    word: int
    set: int
    sense: int
    share: int
    tagged: int


def meaning_columns(rules: Path, numbers: Mapping[str, int]) -> dict[str, np.ndarray]:
    """The columns of the words that have a number; those of `meanings/synsets.tsv` that the lexicon lacks are left out."""
    rows = read_table(rules / "meanings" / "synsets.tsv")
    names: dict[tuple[str, str], int] = {}
    sets: list[_Set] = []
    found: list[_Entry] = []
    for row in rows:
        pos = row["category"].partition(".")[0]
        names[pos, ":".join(row["words"].split(" ")[0].split(":")[:2])] = len(sets)
        for cell in row["words"].split(" "):
            word, sense, *counts = cell.split(":")
            if counts and word in numbers:
                share, tagged = map(int, counts)
                found.append(_Entry(numbers[word], len(sets), int(sense), share, min(tagged, MOST_TAGGED)))
        sets.append(_Set(CATEGORIES.index(row["category"])))
    for at, row in enumerate(rows):
        pos = row["category"].partition(".")[0]
        for name in row["wider"].split():
            if (pos, name) not in names:
                # a set without a word of the table: what is of one kind is told by it all the same
                names[pos, name] = len(sets)
                sets.append(_Set(sets[at].category))
            sets[at].wider.append(names[pos, name])
        sets[at].near += [names[pos, name] for name in row["near"].split()]
    found = _everyday(rules, found, numbers, [CATEGORIES[own.category] for own in sets])
    found.sort(key=lambda e: (e.word, CATEGORIES[sets[e.set].category].partition(".")[0], e.sense))
    for at, entry in enumerate(found):
        sets[entry.set].entries.append(at)
    narrower: dict[int, list[int]] = defaultdict(list)
    for at, own in enumerate(sets):
        for wider in own.wider:
            narrower[wider].append(at)
    if len(sets) > 65535:
        raise ValueError("more meanings than two bytes can number")
    return {
        "meaning_word": np.array([e.word for e in found], np.uint32),
        "meaning_set": np.array([e.set for e in found], np.uint16),
        "meaning_sense": np.array([e.sense for e in found], np.uint8),
        "meaning_share": np.array([e.share for e in found], np.uint8),
        "meaning_tagged": np.array([e.tagged for e in found], np.uint16),
        "set_category": np.array([own.category for own in sets], np.uint8),
        **_lists("set_entry", [own.entries for own in sets], np.uint32),
        **_lists("set_wider", [own.wider for own in sets], np.uint16),
        **_lists("set_near", [own.near for own in sets], np.uint16),
        **_lists("set_narrower", [narrower[at] for at in range(len(sets))], np.uint16),
    }


def _everyday(
    rules: Path, entries: Sequence[_Entry], numbers: Mapping[str, int], categories: Sequence[str]
) -> list[_Entry]:
    """The entries, with the sense that an everyday word has at home and school as the first of the noun: a cake is to eat.

    WordNet counted texts for adults, in which a cake is one of soap; `child/everyday.tsv` says what its words are about.
    """
    meant = {
        row["word"]: MEANT[row["topic"]]
        for row in read_table(rules / "child" / "everyday.tsv")
        if row["topic"] in MEANT
    }
    topics = {numbers[word]: wanted for word, wanted in meant.items() if word in numbers}
    nouns: dict[int, list[_Entry]] = defaultdict(list)
    for entry in entries:
        if entry.word in topics and categories[entry.set].startswith("noun."):
            nouns[entry.word].append(entry)
    changed: dict[_Entry, _Entry] = {}
    for word, own in nouns.items():
        own.sort(key=lambda e: e.sense)
        first = next((e for e in own if categories[e.set] in topics[word]), None)
        if first is None or first is own[0]:
            continue
        for entry in own:
            later = entry.sense + 1 if entry.sense < first.sense else entry.sense
            changed[entry] = entry._replace(sense=later, share=entry.share * (100 - EVERYDAY_SHARE) // 100)
        changed[first] = first._replace(sense=1, share=EVERYDAY_SHARE, tagged=max(first.tagged, 1))
    return [changed.get(entry, entry) for entry in entries]


def _lists(name: str, lists: Sequence[Sequence[int]], kind: type) -> dict[str, np.ndarray]:
    """Lists of numbers as two columns: where each starts, and all of them."""
    starts = np.cumsum([0, *map(len, lists)]).astype(np.uint32)
    return {f"{name}_start": starts, name: np.array([n for own in lists for n in own], kind)}
