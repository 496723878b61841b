"""Which words begin a sentence: counted by hand."""

import itertools
import re

import pytest

from decodecheck.documents.sentences import first_words


@pytest.mark.parametrize(
    ("text", "lengths"),
    [
        ("Tilda ran. Omar sat.", [2, 2]),
        ("Tilda ran! Did Omar sit? Yes", [2, 3, 1]),
        # what is said and who says it are one
        ("“Can we get in?” said Tilda. “Not yet,” said Mr Pike.", [6, 5]),
        ("‘Stop!’ he said. ‘Get in.’", [3, 2]),
        ("Omar said, “It is wet. Get in.”", [5, 2]),
        ("Mr. Pike met Mrs. Lamb. It was Dr. Hill!", [5, 4]),
        ("It is 3.50 today. It was 4.20", [3, 2]),
        # a full stop inside a word ends nothing, nor do three before a small letter
        ("We went to www.harbour.example and sat ... and sat.", [10]),
        ("Nettle and the Boat\n\nMr Pike had a boat\nto sell.", [4, 7]),
        ("Seeds\r\n\r\nWeeds\r\rOaks\n \nSoap", [1, 1, 1, 1]),
        ("One line\nand another", [4]),
    ],
)
def test_words_of_each_sentence(text: str, lengths: list[int]) -> None:
    words = [m.span() for m in re.finditer(r"[^\W\d]+", text)]
    starts = list(first_words(text, words))
    assert starts[0]
    places = [at for at, first in enumerate(starts) if first] + [len(words)]
    assert [b - a for a, b in itertools.pairwise(places)] == lengths
