"""What the compiled lexicon covers, and what the aligner could not place within the inventory.

    python -m decodecheck.lexicon.compiling.audit [--words]

Counts words of letters in wordfreq's best English list; `--words` prints those that are missing or irregular.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import dataclass

from decodecheck.lexicon.items import GPC
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import lexicon, tables
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import LEXICONS, Sound

RANKS = (5000, 20000)


@dataclass(frozen=True)
class Coverage:
    """One accent's coverage of the most frequent words: how many there are, and which are listed, derived, missing,
    irregular (outside the inventory in every reading)."""

    lexicon: str
    rank: int
    words: int
    listed: int
    derived: int
    missing: tuple[str, ...]
    irregular: tuple[str, ...]

    @property
    def covered(self) -> float:
        """Share of the words that are listed or derived."""
        return (self.listed + self.derived) / self.words

    @property
    def regular(self) -> float:
        """Share of the listed and derived words that lie wholly within the inventory in some reading."""
        return 1 - len(self.irregular) / (self.listed + self.derived)


def coverage(name: str, rank: int) -> Coverage:
    """Coverage of the words of letters among the first `rank` of wordfreq's list, in one lexicon."""
    from wordfreq import top_n_list

    lex = lexicon(name)
    words = [w for w in top_n_list("en", rank, wordlist="best") if w.isalpha()]
    listed = derived = 0
    missing, irregular = [], []
    for word in words:
        readings = lex.readings(plain_spelling(word).plain)
        if not readings:
            missing.append(word)
            continue
        if all(r.origin == "derived" for r in readings):
            derived += 1
        else:
            listed += 1
        if all(any(s.irregular for s in r.segments) for r in readings):
            irregular.append(word)
    return Coverage(name, rank, len(words), listed, derived, tuple(missing), tuple(irregular))


def unused() -> list[str]:
    """Correspondences that no word of the lexicons uses, in our segmentation or another accepted one."""
    used: Counter[tuple[str, Sound]] = Counter(i.correspondence for i in tables().items_of(GPC))
    for name in LEXICONS:
        lex = lexicon(name)
        numbers = Counter(lex.units)
        for unit, times in numbers.items():
            for grapheme, sound, _, _ in tables().unit(unit).forms:
                used[grapheme, sound] += times
    return [c.key for c in inventory().all if not used[c.grapheme, c.sound]]


def main(arguments: list[str]) -> None:
    """Print the audit."""
    for name in LEXICONS:
        for rank in RANKS:
            c = coverage(name, rank)
            print(
                f"{name:<9} top {rank}: {c.words} words of letters, {c.covered:.2%} covered "
                f"(listed {c.listed / c.words:.2%}, derived {c.derived / c.words:.2%}), "
                f"{c.regular:.2%} of them within the inventory"
            )
            if "--words" in arguments:
                print("  missing:", " ".join(c.missing))
                print("  irregular:", " ".join(c.irregular))
    print("unused correspondences:", " ".join(unused()) or "none")


if __name__ == "__main__":
    main(sys.argv[1:])
