"""Maintainer's command: the broad category of each word that WordNet 3.0 has, into `rules/child/categories.tsv`.

    python -m decodecheck.lexicon.compiling.broad_categories FOLDER

FOLDER is that of WordNet's database (index.noun, data.noun, cntlist.rev, noun.exc and so on; Debian's package wordnet-base
has it). A category is the name of one of WordNet's lexicographer files (man page lexnames): noun.animal, verb.motion. Not
needed to compile.
"""

from __future__ import annotations

import re
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from decodecheck.lexicon.child_words import FUNCTION
from decodecheck.lexicon.compiling.vocabulary import read_frequencies
from decodecheck.lexicon.meanings import CATEGORIES
from decodecheck.lexicon.word_classes import word_class
from decodecheck.resources import rules_folder

POS = ("noun", "verb", "adj", "adv")
_FUNCTION_CLASSES = ("pronoun", "determiner", "preposition", "conjunction", "contraction")
_AUXILIARIES = frozenset(
    [
        "be",
        "am",
        "is",
        "are",
        "was",
        "were",
        "been",
        "being",
        "have",
        "has",
        "had",
        "having",
        "do",
        "does",
        "did",
        "will",
        "would",
        "shall",
        "should",
        "can",
        "could",
        "may",
        "might",
        "must",
    ]
)
_SENSE_KEY_POS = {"1": "noun", "2": "verb", "3": "adj", "4": "adv", "5": "adj"}
_PLAIN = re.compile(r"[a-z']+\Z")
HEAD = """\
# The broad category of words: the name of the lexicographer file of WordNet 3.0 to which a word's commonest sense belongs
# (licences/WordNet-3.0.txt, NOTICE.md beside this file), or function for words of grammar, auxiliary verbs
# among them.
# Of a word's senses those of the class that word_classes.tsv gives count, where it gives one; of these the category that is
# found most often in WordNet's tagged texts, else that of the first sense of the class with the most senses. Senses with a
# capital count only where there is no other. Irregular forms have the category of their base.
# Made by `python -m decodecheck.lexicon.compiling.broad_categories`; only words that frequency/zipf.tsv has.
word\tcategory
"""


@dataclass(frozen=True, slots=True)
class _Sense:
    pos: str
    category: str
    capital: bool
    tagged: int


def _lines(path: Path) -> Iterator[str]:
    """The lines of a file of the database without the licence at its head."""
    return (line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith(" "))


def _senses(folder: Path) -> dict[str, list[_Sense]]:
    tagged: dict[tuple[str, str, int], int] = {}
    for line in _lines(folder / "cntlist.rev"):
        key, sense, times = line.split()
        lemma, _, rest = key.partition("%")
        tagged[lemma, _SENSE_KEY_POS[rest[0]], int(sense)] = int(times)
    found: dict[str, list[_Sense]] = defaultdict(list)
    for pos in POS:
        synsets = {line.split(" ", 1)[0]: line[: line.index("|")].split() for line in _lines(folder / f"data.{pos}")}
        for line in _lines(folder / f"index.{pos}"):
            cells = line.split()
            word = cells[0]
            if not _PLAIN.match(word):
                continue
            for number, offset in enumerate(cells[-int(cells[2]) :], 1):
                synset = synsets[offset]
                spelt = [s.partition("(")[0] for s in synset[4 : 4 + 2 * int(synset[3], 16) : 2]]
                category = CATEGORIES[int(synset[1])]
                found[word].append(_Sense(pos, category, word not in spelt, tagged.get((word, pos, number), 0)))
    return found


def _category(word: str, senses: list[_Sense]) -> str:
    kind = word_class(word)
    if kind in _FUNCTION_CLASSES or word in _AUXILIARIES:
        return FUNCTION
    wanted = {"adjective": "adj", "adverb": "adv", "number": "noun"}.get(kind, kind)
    senses = [s for s in senses if not s.capital] or senses
    senses = [s for s in senses if s.pos == wanted] or senses
    if not senses:
        return ""
    tagged: Counter[str] = Counter()
    for sense in senses:
        tagged[sense.category] += sense.tagged
    best = max(tagged, key=lambda c: tagged[c])
    if tagged[best]:
        return best
    times = Counter(sense.pos for sense in senses)
    pos = max(times, key=lambda p: (times[p], -POS.index(p)))
    return next(sense.category for sense in senses if sense.pos == pos)


def table(folder: Path, known: list[str]) -> str:
    """The table of the known words. Raises OSError where a file of the database is missing."""
    senses = _senses(folder)
    for pos in POS:
        for line in _lines(folder / f"{pos}.exc"):
            form, base, *_ = line.split()
            if form not in senses:
                senses[form] = [s for s in senses.get(base, ()) if s.pos == pos]
    rows = {word: _category(word, senses.get(word, [])) for word in known}
    return HEAD + "".join(f"{word}\t{rows[word]}\n" for word in sorted(rows) if rows[word])


def main(folder: Path) -> None:
    """Write the table."""
    rules = rules_folder()
    made = table(folder, list(read_frequencies(rules)))
    (rules / "child" / "categories.tsv").write_text(made, encoding="utf-8")
    print(made.count("\n") - HEAD.count("\n"), "rows")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
