"""What a word in a text looks like; `documents/words.py` cuts texts into such words."""

from __future__ import annotations

import re

MARKS = "\u00ad\u0300-\u036f"
"""Soft hyphens and combining accents, as a range of a regular expression."""
CLIPPED = frozenset(("bout", "cause", "course", "em", "n", "neath", "til", "tis", "twas"))
"""Words that have lost their beginning ('em, 'twas) and keep their apostrophe."""


def is_word(text: str) -> bool:
    """Whether a text can yield exactly this as one word: letters, apostrophes and hyphens inside; 'em, dogs' and goin', too."""
    if text.isalpha():
        return True
    text = re.sub(f"[{MARKS}]", "", text).replace("’", "'")
    if text.startswith("'") and text[1:].partition("-")[0].lower() in CLIPPED:
        text = text[1:]
    if text.lower().endswith(("s'", "in'")):
        text = text[:-1]
    return all(part.isalpha() for part in re.split("['\u2010\u2011-]", text))
