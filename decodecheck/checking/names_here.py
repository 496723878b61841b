"""Which words of the lexicon are names in a text: Nettle, Mark, Rose."""

from __future__ import annotations

from collections.abc import Iterable

from decodecheck.checking.values import Entry, Occurrence
from decodecheck.documents.sentences import TITLES, inside_sentence
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import UNFIT_KINDS, Tables

CAPITAL = UNFIT_KINDS.index("capital")


def names_in(
    text: str, occurrences: Iterable[Occurrence], sites: Iterable[tuple[int, int, Entry]], tables: Tables
) -> frozenset[str]:
    """Words, by their plain spelling, that have a capital wherever they occur, and stand at one of some sites (start, end, form) inside of a sentence."""
    capital, small = set[str](), set[str]()
    for o in occurrences:
        (capital if o.form[:1].isupper() and o.form[1:].islower() else small).add(o.plain)
    capital -= small
    found = set[str]()
    for start, _, entry in sites:
        plain = plain_spelling(entry.form).plain
        if (
            plain in capital
            and plain not in found
            and inside_sentence(text, start)
            and not _always_capital(plain, tables)
        ):
            found.add(plain)
    return frozenset(found)


def _always_capital(plain: str, tables: Tables) -> bool:
    """Has a word a capital wherever it stands, name or not: I'm, Japanese, Mrs?"""
    if plain.capitalize() in TITLES:
        return True
    number = tables.number(plain)
    return plain[:2] in ("i", "i'") or (number >= 0 and tables.unfit_kind[number] == CAPITAL)
