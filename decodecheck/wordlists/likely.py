"""How likely a young child is to meet a word; every list asks here, and nowhere else."""

from __future__ import annotations

from decodecheck.lexicon.store import tables


def likely(word: str) -> float:
    """How likely a plain lower-case word of the lexicon is in books for young children, on the Zipf scale; 0 where it is not known."""
    known = tables()
    number = known.number(word)
    return likely_column()[number] / 100 if number >= 0 else 0.0


def likely_column() -> memoryview:
    """The same of every word of the lexicon by its number, in hundredths."""
    return tables().child_zipf
