"""Maintainer's command: the part of WordNet 3.0 that `rules/meanings/synsets.tsv` keeps.

    python -m decodecheck.lexicon.compiling.word_meanings FOLDER

FOLDER is that of WordNet's database (index.noun, data.noun, cntlist.rev and so on; Debian's package wordnet-base has it). The
format is that of WordNet's manual page wndb(5WN). Not needed to compile.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from decodecheck.lexicon.compiling.broad_categories import POS
from decodecheck.lexicon.compiling.vocabulary import read_frequencies
from decodecheck.lexicon.meanings import CATEGORIES
from decodecheck.resources import rules_folder

MOST_SENSES = 4
"""So many senses of a word are kept, as a noun, a verb, an adjective and an adverb each: a word may be a usual name of what is only its
fourth sense (call: to shout)."""
LEAST_ZIPF = 2.0
"""Rarer words are left out: no text for children has them, and no replacement is as rare."""
WIDER, NEAR = ("@",), ("&", "$")
"""WordNet's signs for a direct hypernym, and for an adjective that is similar and a verb of the same group."""
_NUMBERS = {"1": "noun", "2": "verb", "3": "adj", "4": "adv", "5": "adj"}
_PLAIN = re.compile(r"[a-z]+\Z")
HEAD = """\
# What words mean, as far as it takes to find a word for another: synonym sets of WordNet 3.0 (../licences/WordNet-3.0.txt, NOTICE.md
# beside this file). One set a row:
# category  the lexicographer file of WordNet that has it; what stands before the full stop is the part of speech
# words     its words, each with the number of this sense among the word's senses as that part of speech, how many of a hundred uses of
#           the word as that part of speech are of this sense, and how often it was met so, by WordNet's tagged texts: shout:1:64:39.
#           (To each sense 1 is added over the square of its number for the share, so that one never met counts for little.)
#           The first word names the set; where it is none of the words kept, no counts follow: loaf_of_bread:1
# wider     the sets of which this is a kind (direct hypernyms), each by one of its words with the number of the sense
# near      sets that WordNet calls similar (adjectives) or puts in one group (verbs), in the same way
# Left out: words that frequency/zipf.tsv has below Zipf 2 or not at all, names and words of several parts, a word's senses beyond the
# fourth, and sets of which nothing is left.
# Made by `python -m decodecheck.lexicon.compiling.word_meanings`.
category\twords\twider\tnear
"""


@dataclass(frozen=True, slots=True)
class _Synset:
    pos: str
    category: str
    words: tuple[str, ...]
    pointers: tuple[tuple[str, str], ...]


def _lines(path: Path) -> Iterator[str]:
    """The lines of a file of the database without the licence at its head."""
    return (line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith(" "))


def _synsets(folder: Path) -> dict[tuple[str, str], _Synset]:
    found = {}
    for pos in POS:
        for line in _lines(folder / f"data.{pos}"):
            cells = line[: line.index("|")].split()
            after = 4 + 2 * int(cells[3], 16)
            words = tuple(word.partition("(")[0] for word in cells[4:after:2])
            # sign, offset, part of speech, source and target: 0000 is a relation of whole sets, not of two words
            pointers = zip(*(cells[after + 1 + n : after + 1 + 4 * int(cells[after]) : 4] for n in range(4)))
            kept = tuple((sign, offset) for sign, offset, _, ends in pointers if ends == "0000")
            found[pos, cells[0]] = _Synset(pos, CATEGORIES[int(cells[1])], words, kept)
    return found


def _numbered(folder: Path) -> dict[tuple[str, str, str], int]:
    """The number of the sense that a word (in small letters) has in a set."""
    found = {}
    for pos in POS:
        for line in _lines(folder / f"index.{pos}"):
            cells = line.split()
            for number, offset in enumerate(cells[-int(cells[2]) :], 1):
                found[cells[0], pos, offset] = number
    return found


def _tagged(folder: Path) -> dict[tuple[str, str, int], int]:
    found = {}
    for line in _lines(folder / "cntlist.rev"):
        key, sense, times = line.split()
        lemma, _, rest = key.partition("%")
        found[lemma, _NUMBERS[rest[0]], int(sense)] = int(times)
    return found


def _shares(
    numbers: Mapping[tuple[str, str, str], int], tagged: Mapping[tuple[str, str, int], int]
) -> dict[tuple[str, str], list[int]]:
    """How many of a hundred uses of a word as a part of speech are of each of its senses, as WordNet's tagged texts have it.

    To each sense 1 is added over the square of its number, so that what was never met counts for little, later senses for less.
    """
    senses = Counter((word, pos) for word, pos, _ in numbers)
    found = {}
    for (word, pos), count in senses.items():
        weights = [tagged.get((word, pos, n), 0) + 1 / n**2 for n in range(1, count + 1)]
        found[word, pos] = [round(100 * weight / sum(weights)) for weight in weights]
    return found


def table(folder: Path, zipf: Mapping[str, float]) -> str:
    """The table for the words of a list of frequencies. Raises OSError where a file of the database is missing."""
    synsets, numbers, tagged = _synsets(folder), _numbered(folder), _tagged(folder)

    def name(pos: str, offset: str) -> str:
        word = synsets[pos, offset].words[0].lower()
        return f"{word}:{numbers[word, pos, offset]}"

    shares = _shares(numbers, tagged)
    kept: dict[tuple[str, str], list[str]] = {}
    for (pos, offset), synset in synsets.items():
        words = []
        for word in dict.fromkeys(synset.words):
            number = numbers[word.lower(), pos, offset]
            if _PLAIN.match(word) and zipf.get(word, 0) >= LEAST_ZIPF and number <= MOST_SENSES:
                words.append(f"{word}:{number}:{shares[word, pos][number - 1]}:{tagged.get((word, pos, number), 0)}")
        if words:
            own = name(pos, offset)
            kept[pos, offset] = words if words[0].startswith(f"{own}:") else [own, *words]
    rows = []
    for (pos, offset), words in kept.items():
        synset = synsets[pos, offset]
        wider = sorted(name(pos, other) for sign, other in synset.pointers if sign in WIDER)
        near = sorted(name(pos, other) for sign, other in synset.pointers if sign in NEAR and (pos, other) in kept)
        rows.append("\t".join((synset.category, " ".join(words), " ".join(wider), " ".join(near))))
    return HEAD + "".join(f"{row}\n" for row in sorted(rows))


def main(folder: Path) -> None:
    """Write the table."""
    rules = rules_folder()
    made = table(folder, read_frequencies(rules))
    (rules / "meanings").mkdir(exist_ok=True)
    (rules / "meanings" / "synsets.tsv").write_text(made, encoding="utf-8")
    print(made.count("\n") - HEAD.count("\n"), "rows")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
