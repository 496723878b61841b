"""What the spelling of an unknown word suggests: a proposal for a person, never a verdict."""

from __future__ import annotations

from functools import lru_cache

from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.progression.pinned import pin_text


@lru_cache(maxsize=1 << 12)
def guess(form: str, accent: str) -> str:
    """The statement that pins the likeliest reading of an unknown form, from its spelling alone; "" where its letters allow none.

    Takes about a millisecond the first time.
    """
    found = _lookup(accent).predicted(plain_spelling(form))
    return pin_text(form, found.readings[0], accent) if found.readings else ""


@lru_cache(maxsize=8)
def _lookup(accent: str) -> Lookup:
    return Lookup(accent)
