"""What a word in a text looks like; `documents/words.py` cuts texts into such words."""

from __future__ import annotations

import re

UNSEEN = (
    "\u0080-\u0084\u0086-\u009f\u00ad\u0600-\u0605\u061c\u06dd\u070f\u0890\u0891\u08e2\u180b-\u180f\u200b-\u200f\u202a-\u202e\u2060-\u2064"
    "\u2066-\u206f\ufe00-\ufe0f\ufeff\ufff9-\ufffb\U000110bd\U000110cd\U00013430-\U0001343f\U0001bca0-\U0001bca3"
    "\U0001d173-\U0001d17a\U000e0001\U000e0020-\U000e007f\U000e0100-\U000e01ef"
)
"""What has no picture of its own, as a range of a regular expression: soft hyphens and all other format characters (category Cf of
Unicode 16.0), controls beyond ASCII, variation selectors. They belong to the word that they stand in and change nothing in it."""
MARKS = f"{UNSEEN}\u0300-\u036f\u1ab0-\u1aff\u1dc0-\u1dff\u20d0-\u20ff\ufe20-\ufe2f"
"""Those, and combining accents, as a range of a regular expression."""
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
