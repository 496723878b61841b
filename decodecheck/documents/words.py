"""Cut a text into words. spaCy's English tokenizer cuts whatever is not plainly a word between punctuation marks.

Text is split at white space; each distinct stretch is cut once and remembered. spaCy is loaded when first needed. Its
special cases that cut words (cannot, gonna, didn't) are undone: what touches without a space and is made of letters,
apostrophes and hyphens is one word.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from decodecheck.lexicon.forms import CLIPPED, MARKS

if TYPE_CHECKING:
    from spacy.language import Language

STRETCH = re.compile(r"\S+")
OPENING = "\"'“‘(["
CLOSING = "\"'”’)].,;:!?…"
LONGEST_WORD = 200
"""No word of any text is longer; the longest in dictionaries have fewer than 50 letters (from memory)."""
PLAIN = re.compile(
    rf"[{re.escape(OPENING)}]*+([A-Za-z]{{1,{LONGEST_WORD}}}+(?:['’][a-z]{{1,2}})?)([{re.escape(CLOSING)}]*+)\Z"
)
"""A word between ordinary punctuation; everything else goes through spaCy."""
LETTER = r"[^\W\d_]"
WORD = re.compile(
    rf"(?:['’](?=(?:{'|'.join(sorted(CLIPPED))})\b))?{LETTER}[\w{MARKS}]*"
    rf"(?:['’\u2010\u2011-][{MARKS}]*{LETTER}[\w{MARKS}]*)*(?:(?<=s)['’](?!\w)|(?<=in)['’](?!\w))?",
    re.IGNORECASE,
)
"""A word inside an awkward stretch: letters, with apostrophes and hyphens inside; dogs' and goin' keep theirs."""
NUMBER = re.compile(r"[+\-£$€#]?\d[\d.,:/]*(?:st|nd|rd|th|am|pm|s|p|m|cm|km|g|kg|%)?\Z", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Cut:
    """A word or other token inside a stretch: offsets within it, kind "word", "number", "address", "symbol", or "too long"
    for what has more letters than any word."""

    start: int
    end: int
    kind: str


@cache
def _tokenizer() -> Language:
    import spacy

    return spacy.blank("en")


def cut(stretch: str) -> tuple[Cut, ...]:
    """The words of a stretch without white space, and what in it is not judged."""
    plain = PLAIN.match(stretch)
    if plain:
        start, end = plain.span(1)
        # dogs' keeps its apostrophe unless a quotation opened before the word
        tail = plain[2]
        opened = stretch[:start].endswith(("'", "‘", "’"))
        if opened and stretch[start:end].lower() in CLIPPED and tail[:1] not in ("'", "’"):
            start -= 1
        if tail[:1] in ("'", "’") and not opened and stretch[start:end].lower().endswith(("s", "in")):
            end += 1
        return (Cut(start, end, "word"),)
    if not any(c.isalnum() for c in stretch):
        return (Cut(0, len(stretch), "symbol"),) if any(not _is_punctuation(c) for c in stretch) else ()
    return tuple(_cut_awkward(stretch))


_TELLING = re.compile(r"[\d@/]|\.\w")
"""What addresses and numerals have; only a stretch with one of these needs spaCy."""
LONGEST = 2000
"""A longer stretch without white space is no address."""


def _is_punctuation(character: str) -> bool:
    return unicodedata.category(character)[0] == "P"


def _cut_awkward(stretch: str) -> list[Cut]:
    found: list[Cut] = []
    tokens = _tokenizer().make_doc(stretch) if _TELLING.search(stretch) and len(stretch) <= LONGEST else ()
    addresses: list[tuple[int, int]] = []
    numbers: list[tuple[int, int]] = []
    for token in tokens:
        start, end = token.idx, token.idx + len(token.text)
        if (
            token.like_url and "." in token.text and ("/" in token.text or "www" in token.text or _domain(token.text))
        ) or token.like_email:
            addresses.append((start, end))
        elif NUMBER.match(token.text):
            numbers.append((start, end))
    at = 0
    for start, end in sorted(addresses):
        found += _words(stretch, at, start, numbers)
        found.append(Cut(start, end, "address"))
        at = end
    found += _words(stretch, at, len(stretch), numbers)
    return found


_DOMAIN = re.compile(r"[\w-]+(\.[\w-]+)*\.(com|org|net|uk|edu|gov|io|info|school|co)\Z", re.IGNORECASE)


def _domain(text: str) -> bool:
    return _DOMAIN.match(text) is not None


def _words(stretch: str, start: int, end: int, numbers: list[tuple[int, int]]) -> list[Cut]:
    found = []
    for run in re.finditer(rf"[\w'’\u2010\u2011{MARKS}-]+", stretch[start:end]):
        first, text = start + run.start(), run[0]
        if any(c.isdigit() for c in text):
            # 10am, 3rd, B12, 1066: a numeral takes the letters that touch it
            left = len(text) - len(text.lstrip("'’-_"))
            right = len(text.rstrip("'’-_"))
            found.append(Cut(first + left, first + right, "number"))
            continue
        for piece in re.finditer(r"[^_]+", text):
            at = first + piece.start()
            for match in WORD.finditer(piece[0]):
                kind = "word" if match.end() - match.start() <= LONGEST_WORD else "too long"
                found.append(Cut(at + match.start(), at + match.end(), kind))
    return found
