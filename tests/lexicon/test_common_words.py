"""The commonest words for authors, by the estimate for books for young children (tests/lexicon/test_child_words.py)."""

import pytest

from decodecheck.lexicon.common_words import common_words, unfit_words
from decodecheck.lexicon.store import lexicon, tables
from decodecheck.phonics.sounds import LEXICONS
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

ZIPF = {row["word"]: float(row["zipf"]) for row in read_table(rules_folder() / "frequency" / "zipf.tsv")}
KINDS = {"unsuitable", "no word", "capital", "american", "british"}
# The first twenty lemmas of the Oxford English Corpus (from memory): the, be, to, of, and, a, in, that, have, I, it, for, not, on,
# with, he, as, you, do, at.
OXFORD = {
    "the", "be", "to", "of", "and", "a", "in", "that", "have", "i", "it", "for", "not", "on", "with", "he", "as", "you", "do", "at",
}  # fmt: skip


@pytest.mark.parametrize("name", LEXICONS)
def test_the_first_words(name: str) -> None:
    words = common_words(lexicon(name), 400)
    assert words[0] == "the" and {"to", "in", "a", "see", "no", "you"} <= set(words[:20])
    assert set(words) >= OXFORD
    assert {"house", "dog", "bed", "see", "was"} <= set(words)


@pytest.mark.parametrize("name", LEXICONS)
def test_commonest_first_then_by_the_alphabet(name: str) -> None:
    words = common_words(lexicon(name), 2000)
    assert len(words) == len(set(words)) == 2000
    child = {w: tables().child_zipf[tables().number(w)] for w in words}
    assert words == sorted(words, key=lambda w: (-child[w], w))
    assert words[:300] == common_words(lexicon(name), 300)


@pytest.mark.parametrize("name", LEXICONS)
def test_what_is_left_out(name: str) -> None:
    words = common_words(lexicon(name), 6000)
    other = "american" if name == "british" else "british"
    kept = {w for w, kind in unfit_words().items() if kind == name}
    assert not set(words) & (set(unfit_words()) - kept)
    assert {"british": "colour", "american": "color"}[name] in words
    assert {"british": "colour", "american": "color"}[other] not in words
    assert {w for w in words if len(w) == 1} == {"a", "i"}
    assert not {"london", "obama", "world's", "mother's", "january", "http"} & set(words)
    assert {"don't", "that's", "let's", "he's", "mr", "dead", "mark", "bill", "god"} <= set(words)
    assert all(lexicon(name).has(w) and w == w.lower() for w in words)


def test_numbers_at_the_edges() -> None:
    british = lexicon("british")
    assert common_words(british, 0) == []
    every = common_words(british, 1_000_000)
    assert 60_000 < len(every) < british.tables.count


def test_unfit_words() -> None:
    rows = read_table(rules_folder() / "unfit_words.tsv")
    words = [row["word"] for row in rows]
    assert words == sorted(set(words))
    assert {row["kind"] for row in rows} == KINDS
    # a rude word that is in no list of words is named so that none is invented like it
    assert {row["kind"] for row in rows if row["word"] not in ZIPF} <= {"unsuitable"}
    # ordinary words for sad and dangerous things stay, as do the titles
    assert not {"dead", "war", "fight", "mr", "mrs", "dr"} & set(words)
