"""Words of a progression that no text can hold."""

from __future__ import annotations

import re

from decodecheck.errors import cut
from decodecheck.lexicon.forms import is_word
from decodecheck.progression.spot import Spot
from decodecheck.progression.syntax import Text

NO_WORD = re.compile(r"^[\W\d_]+|[\W\d_]+$")
"""What cannot stand at the start or at the end of a word."""
LONGEST_WORD = 200
"""As `documents/words.py` has it."""


def may_match(spot: Spot, word: Text) -> bool:
    """Whether a word can stand in a text as it is written here; reported where it cannot."""
    if len(word.value) > LONGEST_WORD:
        what = f"`{cut(word.value)}` is too long for a word."
        spot.problem("too-long", word, what, f"A word of a text has at most {LONGEST_WORD} letters.")
        return False
    if is_word(word.value):
        return True
    rest = NO_WORD.sub("", word.value)
    todo = f"Write `{rest}`." if rest and is_word(rest) else "Take it out."
    what = f"`{word}` is never found in a text: words are letters, with apostrophes and hyphens inside."
    spot.problem("never-found", word, what, todo)
    return False
