"""The columns of the compiled lexicon that lists of words ask for: which readings sound alike, and what is known by hand of words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np

from decodecheck.lexicon.common_words import unfit_words
from decodecheck.lexicon.said import number_of
from decodecheck.lexicon.store import NAMED, UNFIT_KINDS
from decodecheck.lexicon.units import Unit
from decodecheck.lexicon.vector import holding
from decodecheck.phonics.sounds import ACCENTS, LEXICONS, lexicon_of, project
from decodecheck.tables import read_table


def alike_columns(units: Sequence[Unit], arrays: Mapping[str, np.ndarray]) -> dict[str, np.ndarray]:
    """For each accent and each reading of its lexicon, how far before it the first reading stands that has the same sounds in the same
    order: nearly always 0, which takes no room in a wheel; and for each accent the numbers of all that its words say, names and rare senses
    included, in rising order. `arrays` are the columns of the readings."""
    found = {}
    for accent in ACCENTS:
        said = [tuple(s for g, sound, linked, _ in u.forms for s in project(g, sound, linked, accent)) for u in units]
        name = lexicon_of(accent)
        numbers = arrays[f"{name}_units"].tolist()
        first: dict[tuple[str, ...], int] = {}
        over = []
        for place, (start, end) in enumerate(pairwise(arrays[f"{name}_reading_unit"].tolist())):
            sounds = tuple(s for n in numbers[start:end] for s in said[n])
            over.append(place - first.setdefault(sounds, place))
        found[f"{accent}_alike"] = np.array(over, np.uint32)
        found[f"{accent}_said"] = np.array(sorted({number_of(sounds) for sounds in first}), np.uint32)
    return found


def by_hand_columns(rules: Path, words: Iterable[str], arrays: Mapping[str, np.ndarray]) -> dict[str, np.ndarray]:
    """What `unfit_words.tsv` and `homophones.tsv` say of every word, and which words hold one that is unfit for a classroom."""
    kinds = unfit_words(rules)
    named = {row["word"]: row["named"] for row in read_table(rules / "homophones.tsv")}
    kind = np.array([UNFIT_KINDS.index(kinds.get(word, "")) for word in words], np.uint8)
    found = {
        "unfit_kind": kind,
        "named_alike": np.array([NAMED.index(named.get(word, "")) for word in words], np.uint8),
    }
    for lexicon in LEXICONS:
        start = arrays[f"{lexicon}_sense_reading"] + np.arange(len(arrays[f"{lexicon}_sense_reading"]))
        held = holding(
            start[arrays[f"{lexicon}_word_sense"]],
            arrays[f"{lexicon}_reading_part"],
            arrays[f"{lexicon}_part_reading"],
            kind == UNFIT_KINDS.index("unsuitable"),
        )
        found[f"{lexicon}_unfit"] = held.astype(np.uint8)
    return found
