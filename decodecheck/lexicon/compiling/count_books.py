"""Maintainer's command: count the words of books for children into `rules/child/books.tsv`.

    python -m decodecheck.lexicon.compiling.count_books FOLDER

FOLDER holds the texts as .txt files, without their publishers' front and back matter. Only the counts are kept, of words that
stand in `rules/frequency/zipf.tsv`; `rules/child/NOTICE.md` names the books. Not needed to compile.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from decodecheck.lexicon.compiling.vocabulary import read_frequencies
from decodecheck.resources import rules_folder

_WORD = re.compile(r"[A-Za-z]+(?:'[A-Za-z]+)*")
HEAD = """\
# How often words stand in seven books for children that are out of copyright (NOTICE.md beside this file names them).
# count: in all of them together, in small letters: a capital is mostly that of a name (God, Black Beauty) or of a sentence's
# first word. Only I counts with its capital. books: in how many of them.
# Made by `python -m decodecheck.lexicon.compiling.count_books`; only words that frequency/zipf.tsv has.
word\tcount\tbooks
"""


def words_of(text: str) -> list[str]:
    """The words of a text that stand in small letters, with straight apostrophes; I and I'm with their capital."""
    found = _WORD.findall(text.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'"))
    return [word.lower() for word in found if word.islower() or word == "I" or word.startswith("I'")]


def table(texts: Iterable[str], known: Iterable[str]) -> str:
    """The table of the words of some books, each a text: of the known words only, sorted."""
    counts: Counter[str] = Counter()
    books: Counter[str] = Counter()
    for text in texts:
        found = Counter(words_of(text))
        counts.update(found)
        books.update(found.keys())
    kept = sorted(set(known) & set(counts))
    return HEAD + "".join(f"{word}\t{counts[word]}\t{books[word]}\n" for word in kept)


def main(folder: Path) -> None:
    """Write the table. Raises OSError where a text cannot be read."""
    rules = rules_folder()
    texts = [path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.txt"))]
    made = table(texts, read_frequencies(rules))
    (rules / "child" / "books.tsv").write_text(made, encoding="utf-8")
    print(
        len(texts),
        "books,",
        sum(len(words_of(text)) for text in texts),
        "words,",
        made.count("\n") - HEAD.count("\n"),
        "rows",
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
