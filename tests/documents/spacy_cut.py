"""The cut of a stretch where spaCy's English tokenizer says what is an address: what `documents/addresses.py` is held to."""

from __future__ import annotations

import re
from functools import cache

import spacy
from spacy.language import Language
from spacy.tokens import Token

from decodecheck.documents.words import PLAIN, Cut, _words, cut

TELLING = re.compile(r"[\d@/]|\.\w")
"""What addresses have."""
LONGEST = 2000
DOMAIN = re.compile(r"[\w-]+(\.[\w-]+)*\.(com|org|net|uk|edu|gov|io|info|school|co)\Z", re.IGNORECASE)


@cache
def tokenizer() -> Language:
    return spacy.blank("en")


def spacy_cut(stretch: str) -> tuple[Cut, ...]:
    """What `words.cut` gives, with spaCy's addresses."""
    if PLAIN.match(stretch) or not any(c.isalnum() for c in stretch):
        return cut(stretch)
    found: list[Cut] = []
    at = 0
    for start, end in spacy_addresses(stretch):
        found += _words(stretch, at, start)
        found.append(Cut(start, end, "address"))
        at = end
    return (*found, *_words(stretch, at, len(stretch)))


def spacy_addresses(stretch: str) -> list[tuple[int, int]]:
    """Start and end of each of spaCy's tokens that is an address."""
    if not TELLING.search(stretch) or len(stretch) > LONGEST:
        return []
    return [(t.idx, t.idx + len(t.text)) for t in tokenizer().make_doc(stretch) if is_address(t)]


def is_address(token: Token) -> bool:
    """Is a token an e-mail address, or like the address of a site, and told by more than a dot?"""
    text = token.text
    told = "." in text and ("/" in text or "www" in text or DOMAIN.match(text) is not None)
    return (token.like_url and told) or token.like_email
