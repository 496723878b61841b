"""Effort against published misspellings: misspelt words score harder, and what is misspelt in them is what scores hard.

The source: Wikipedia's list of common misspellings (`tests/data/misspellings.tsv` says how it came here). It was made by adults who
edit an encyclopaedia, so it tells nothing of the slips of beginners, such as a consonant left out of two. No weight of `effort` was
set by it; two faults were found with the whole of it in view (the r-vowels before a vowel, as in separate, had nothing to choose, and
the rr of referring was not doubled), so that the figures are a little better than they would be on new misspellings.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from difflib import SequenceMatcher
from functools import cache
from statistics import mean

import numpy as np
import numpy.typing as npt
import pytest

from decodecheck.lexicon.compiling.audit_child import rank_correlation, ranks
from decodecheck.phonics.align import Segment
from decodecheck.tables import read_table
from decodecheck.wordlists.described import FoundWord
from decodecheck.wordlists.effort import SILENT, WEAK, has_doubled
from decodecheck.wordlists.shown import shown_segments
from tests.data.folder import DATA
from tests.wordlists.test_effort import known

FEWEST = 5
"""So many words that are not misspelt are the least that a misspelt one is compared with."""
MOST_CHANGED = 3


def is_slip(misspelling: str, word: str) -> bool:
    """Have two neighbouring letters only changed places? Then it was the fingers that were wrong, more likely than not."""
    pairs = (word[:i] + word[i + 1] + word[i] + word[i + 2 :] for i in range(len(word) - 1))
    return misspelling in pairs


@cache
def misspelt() -> list[tuple[str, str]]:
    """Misspellings with their words, slips of the fingers left out, of words that `known` has."""
    rows = [(row["misspelling"], row["word"]) for row in read_table(DATA / "misspellings.tsv")]
    return [(m, word) for m, word in rows if word in known() and not is_slip(m, word)]


def score(word: FoundWord, part: str = "") -> float:
    return word.effort.parts[part] if part else word.effort.total


def harder(part: str = "", same_length: bool = True) -> tuple[float, int]:
    """How often a misspelt word scores higher than one that is not in the list, is as common, and has as many letters (a half
    where they are equal), and of how many misspelt words."""
    listed = {word for _, word in misspelt()}
    groups: dict[tuple[int, int], tuple[list[float], list[float]]] = defaultdict(lambda: ([], []))
    for name, word in known().items():
        of = len(name) if same_length else 0, round(word.common * 5)
        groups[of][name in listed].append(score(word, part))
    shares = []
    for others, own in groups.values():
        if len(others) >= FEWEST:
            ranked = np.sort(others)
            places = np.searchsorted(ranked, own, "left") + np.searchsorted(ranked, own, "right")
            shares += (places / (2 * len(others))).tolist()
    return mean(shares), len(shares)


def correlation() -> tuple[float, float, float]:
    """Rank correlation with how many misspellings of a word the list has: of effort, of the number of letters, and of effort where
    letters and commonness are accounted for."""
    times = Counter(word for _, word in misspelt())
    counts = [times[name] for name in known()]
    efforts = [word.effort.total for word in known().values()]
    lengths = [len(name) for name in known()]
    same = np.column_stack([np.ones(len(counts)), ranks(lengths), ranks([w.common for w in known().values()])])

    def left_over(values: Sequence[float]) -> npt.NDArray[np.float64]:
        ranked = ranks(values)
        result: npt.NDArray[np.float64] = ranked - same @ np.linalg.lstsq(same, ranked, rcond=None)[0]
        return result

    alone = float(np.corrcoef(left_over(efforts), left_over(counts))[0, 1])
    return rank_correlation(efforts, counts), rank_correlation(lengths, counts), alone


def changed(misspelling: str, word: str) -> set[int]:
    """The letters of a word that a misspelling changes or leaves out, or to which it adds one."""
    found: set[int] = set()
    for kind, start, end, first, last in SequenceMatcher(None, word, misspelling, autojunk=False).get_opcodes():
        if kind == "insert":
            added = misspelling[first:last]
            # one more of the same letter belongs to that letter; any other to both its neighbours
            beside = [i for i in (start - 1, start) if 0 <= i < len(word)]
            found.update([i for i in beside if word[i] in (added[0], added[-1])][:1] or beside)
        elif kind != "equal":
            found.update(range(start, end))
    return found


def costs(word: FoundWord) -> list[tuple[Segment, float]]:
    """What each grapheme of a word adds by its spelling: its choice, that it is weakened, doubled, silent."""
    choices = iter(word.effort.choices)
    return [
        (
            s,
            (next(choices).bits if s.sound else SILENT) + WEAK * ("SCHWA" in s.sound) + has_doubled(s.grapheme),
        )
        for s in shown_segments(word.reading)
    ]


def where(by_letters: bool = False) -> tuple[float, int]:
    """How often a grapheme that is misspelt weighs more than one of the same word that is not (a half where they are equal), and
    of how many misspellings; by their numbers of letters instead, on demand."""
    shares = []
    for misspelling, word in misspelt():
        places = changed(misspelling, word)
        if len(places) <= MOST_CHANGED:
            weights: tuple[list[float], list[float]] = [], []
            for segment, cost in costs(known()[word]):
                weights[not places.isdisjoint(segment.letters)].append(len(segment.grapheme) if by_letters else cost)
            right, wrong = weights
            if right and wrong:
                shares.append(mean((w > r) + (w == r) / 2 for w in wrong for r in right))
    return mean(shares), len(shares)


def test_misspelt_words_score_harder() -> None:
    # measured: 0.5 would be chance; the floors are a little below what was measured
    found, count = harder()
    assert count > 1_500
    assert found > 0.57
    assert harder("choice")[0] > 0.57 and harder("weak")[0] > 0.53 and harder("doubled")[0] > 0.52
    assert harder(same_length=False)[0] > 0.7


def test_effort_goes_with_misspellings() -> None:
    effort, _, alone = correlation()
    assert effort > 0.2 and alone > 0.08


def test_what_is_misspelt_is_what_weighs() -> None:
    found, count = where()
    assert count > 2_000
    assert found > 0.64
    assert found > where(by_letters=True)[0]


@pytest.mark.parametrize(
    ("misspelling", "word", "letters"),
    [("refering", "referring", {5}), ("seperate", "separate", {3}), ("untill", "until", {4}), ("definate", "definite", {5}), ("goverment", "government", {5})],
)  # fmt: skip
def test_the_letters_that_change(misspelling: str, word: str, letters: set[int]) -> None:
    assert letters <= changed(misspelling, word) and len(changed(misspelling, word)) <= 2


def test_slips_of_the_fingers() -> None:
    assert is_slip("wirting", "writing") and not is_slip("writing", "writing") and not is_slip("seperate", "separate")
