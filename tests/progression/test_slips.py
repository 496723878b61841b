"""Tricky words that are likely slips of the keyboard."""

from __future__ import annotations

import pytest

from decodecheck.lexicon.common_words import common_words
from decodecheck.lexicon.store import lexicon
from decodecheck.progression.advise import notes
from decodecheck.progression.resolve import resolve
from decodecheck.progression.slips import likely_meant


# The source: common misspellings of common words, as lists of them name them (from memory).
@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("thier", "their"),
        ("siad", "said"),
        ("becuase", "because"),
        ("freind", "friend"),
        ("wich", "which"),
        ("wnet", "went"),
    ],
)
def test_a_slip_is_asked_about(typed: str, meant: str) -> None:
    order, problems = resolve(f"step 1\n  teach p\n  tricky {typed}\n", "x")
    assert not problems
    (note,) = notes(order)
    assert note.note and f"`{meant}`" in note.todo and note.todo.startswith("Did you mean")


def test_no_common_word_is_taken_for_a_slip() -> None:
    lex = lexicon("british")
    zipf = lex.tables.zipf
    words = sorted(common_words(lex, lex.tables.count), key=lambda w: -zipf[lex.tables.number(w)])
    assert [w for w in words[:5000] if likely_meant(w, lex)] == []


@pytest.mark.parametrize("word", ["colonel", "yacht", "wigwam", "laugh", "once", "Tilda", "gnome"])
def test_a_rarer_word_of_its_own_is_none(word: str) -> None:
    order, _ = resolve(f"step 1\n  teach p\n  tricky {word}\n", "x")
    assert not [n for n in notes(order) if "Did you mean" in n.todo]
