"""Letters that only look like a digraph."""

import pytest

from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.phonics.notes import false_digraphs


@pytest.mark.parametrize(
    ("word", "pairs"),
    [
        ("mishap", [("s", "h")]),
        # an ending is added to a word: nothing is left of red without its ed, nor of yes without es
        ("red", []),
        ("shed", []),
        ("yes", []),
        ("wicked", [("e", "d")]),
        ("jumped", []),
        ("reindeer", []),
        ("react", [("e", "a")]),
    ],
)
def test_pairs_that_look_like_a_digraph(word: str, pairs: list[tuple[str, str]]) -> None:
    (reading, *_) = Lookup("southern-british").find(plain_spelling(word)).readings
    assert false_digraphs(reading.segments) == pairs
