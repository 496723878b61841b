"""What somebody allows in a text: a word that is not to be told there."""

from __future__ import annotations

import sys
from dataclasses import dataclass

from decodecheck.documents.document import Place
from decodecheck.lexicon.lookup import plain_spelling

EVERYWHERE = sys.maxsize
NOWHERE = Place()
_POSSESSIVES = ("'s", "'")


@dataclass(frozen=True, slots=True)
class Allowance:
    """A word that is not to be told, from one offset into the text to another, and why; with a `kind`, only findings of that kind.

    One that stands in the text itself has the place of its comment, the line that it begins in, and where in the file its comments are
    (`spans`, none where the file is no text).
    """

    word: str
    kind: str = ""
    reason: str = ""
    start: int = 0
    end: int = EVERYWHERE
    place: Place = NOWHERE
    end_place: Place = NOWHERE
    excerpt: str = ""
    spans: tuple[tuple[int, int], ...] = ()

    @property
    def in_text(self) -> bool:
        """Whether it stands in the text itself, and not in a configuration."""
        return self.place != NOWHERE


def words_meant(form: str) -> tuple[str, ...]:
    """The spellings by which an allowance may mean a form: its own, and without a possessive 's."""
    plain = plain_spelling(form).plain
    return (plain, *(plain.removesuffix(end) for end in _POSSESSIVES if plain.endswith(end)))
