"""Where sentences begin."""

import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from decodecheck.documents.sentences import around, starts_sentence
from decodecheck.documents.words import STRETCH


def starts_read_plainly(text: str, start: int, before: re.Match[str] | None) -> bool:
    """After a full stop or the like, a blank line, or with an opening quotation mark; by the whole word before."""
    if before is None or text[start] in ('"', "'", "“", "‘", "(", "["):
        return True
    if before[0].rstrip("\"'”’)]").endswith((".", "!", "?", "…", ":")):
        return True
    return len(re.findall(r"\r\n|\n|\r", text[before.end() : start])) > 1


PIECES = st.sampled_from(
    ["Tilda", "sat", "a", "1", ".", "!", "?", "…", ":", ";", ",", '"', "'", "“", "”", "‘", "’", "(", ")", "[", "]", "—",
     " ", " ", "  ", "\n", "\r\n", "\r", "\n\n", "\n \n", "\t", "\x0b", "\u2028", "\u3000"]
)  # fmt: skip


@settings(max_examples=1500, deadline=None)
@example("'\" A")
@example("A. \"' )] Tilda")
@example(".”’)] Tilda\r\nsat\r\n\r\nsat")
@given(st.lists(PIECES, max_size=25).map("".join))
def test_a_sentence_starts_where_the_word_before_says_so(text: str) -> None:
    before = None
    for match in STRETCH.finditer(text):
        said = starts_sentence(text, match.start(), before.end() if before else 0)
        assert said == starts_read_plainly(text, match.start(), before)
        before = match


@pytest.mark.parametrize(
    ("text", "inside", "mark"),
    [
        ("Tilda sat. Omar READ it. Nettle ate.", " Omar READ it", "."),
        ("Omar READ it", "Omar READ it", ""),
        ("“Sit,” said Omar, ‘or READ!’ he said", "or READ", "‘"),
        ("the boys' READ 'tin' cans", "the boys' READ ", ""),
        ("Tilda's READ boats' names", "Tilda's READ boats' names", ""),
        ("Tilda\n \t\nREAD\r\n\r\nit", "READ\r", "\n"),
        ("Tilda\nREAD\nit", "Tilda\nREAD\nit", ""),
        ("tin; READ: it", " READ", ";"),
        ("x" * 90 + " READ " + "y" * 90, "x" * 39 + " READ " + "y" * 39, ""),
    ],
)
def test_the_sentence_around_a_word(text: str, inside: str, mark: str) -> None:
    start = text.index("READ")
    first, last, found = around(text, start, start + 4, 40)
    assert (text[first:last], found) == (inside, mark)
