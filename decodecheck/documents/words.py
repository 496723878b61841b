"""Cut a text into words, numbers and addresses.

Text is split at white space; each distinct stretch is cut once and remembered. Addresses are taken out first. Of what is left,
whatever touches and is made of letters, apostrophes and hyphens is one word; with a digit in it, it is a number (10:30am, 3rd, B12).
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from decodecheck.documents.addresses import addresses
from decodecheck.lexicon.forms import CLIPPED, MARKS

STRETCH = re.compile(r"\S+")
OPENING = "\"'“‘(["
CLOSING = "\"'”’)].,;:!?…"
LONGEST_WORD = 200
"""No word of any text is longer; the longest in dictionaries have fewer than 50 letters (from memory)."""
PLAIN = re.compile(
    rf"[{re.escape(OPENING)}]*+([A-Za-z]{{1,{LONGEST_WORD}}}+(?:['’][a-z]{{1,2}})?)([{re.escape(CLOSING)}]*+)\Z"
)
"""A word between ordinary punctuation; whatever else there is gets a closer look."""
RUN = re.compile(rf"[\w'’\u2010\u2011{MARKS}-]+")
"""What touches without a blank or another sign between."""
LETTER = r"[^\W\d_]"
WORD = re.compile(
    rf"(?:['’](?=(?:{'|'.join(sorted(CLIPPED))})\b))?{LETTER}[\w{MARKS}]*"
    rf"(?:['’\u2010\u2011-][{MARKS}]*{LETTER}[\w{MARKS}]*)*(?:(?<=s)['’](?!\w)|(?<=in)['’](?!\w))?",
    re.IGNORECASE,
)
"""A word inside an awkward stretch: letters, with apostrophes and hyphens inside; dogs' and goin' keep theirs."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A word or other token inside a stretch: offsets within it, kind "word", "number", "address", "symbol", or "too long"
    for what has more letters than any word."""

    start: int
    end: int
    kind: str


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


def _is_punctuation(character: str) -> bool:
    return unicodedata.category(character)[0] == "P"


def _cut_awkward(stretch: str) -> list[Cut]:
    found: list[Cut] = []
    at = 0
    for start, end in addresses(stretch):
        found += _words(stretch, at, start)
        found.append(Cut(start, end, "address"))
        at = end
    return [*found, *_words(stretch, at, len(stretch))]


def _words(stretch: str, start: int, end: int) -> list[Cut]:
    found = []
    for run in RUN.finditer(stretch, start, end):
        first, text = run.start(), run[0]
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
