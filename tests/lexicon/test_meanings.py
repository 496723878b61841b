"""Which words mean nearly the same, against WordNet's own database."""

from collections import Counter

from decodecheck.lexicon.meanings import CATEGORIES, PARTS_OF_SPEECH, meanings
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table
from tests.data.folder import DATA


def test_random_synonyms_of_the_database_share_a_set() -> None:
    # source: tests/data/wordnet_synonyms.tsv, drawn from WordNet 3.0
    known, apart = meanings(), []
    rows = read_table(DATA / "wordnet_synonyms.tsv")
    assert len(rows) == 120
    for row in rows:
        one, other = ({s.set for s in known.senses(row[name]) if s.pos == row["pos"]} for name in ("word", "synonym"))
        if not one & other:
            apart.append((row["word"], row["synonym"]))
    assert apart == []


def test_relations_of_the_database() -> None:
    # source: WordNet 3.0, looked up by hand
    known = meanings()
    (shout,) = [s.set for s in known.senses("shout") if s.pos == "verb" and s.number == 1]
    kinds = {other.word for kind in known.narrower(shout) for other in known.words(kind)}
    assert {"bawl", "yell", "holler"} <= kinds
    (huge,) = [s.set for s in known.senses("huge") if s.number == 1]
    similar = {other.word for near in known.near(huge) for other in known.words(near)}
    assert {"large", "big"} <= similar
    wider = {
        other.word
        for s in known.senses("trot")
        if s.pos == "verb"
        for w in known.wider(s.set)
        for other in known.words(w)
    }
    assert "run" in wider


def test_every_row_is_compiled() -> None:
    known = meanings()
    rows = read_table(rules_folder() / "meanings" / "synsets.tsv")
    told = Counter(row["category"] for row in rows)
    assert set(told) <= set(CATEGORIES)
    for row in rows[::500]:
        first = row["words"].split(" ")[-1].split(":")[0]
        if known.tables.number(first) >= 0:
            assert any(known.category(s.set) == row["category"] for s in known.senses(first)), first


def test_shares_are_shares() -> None:
    known = meanings()
    for word in ("take", "cake", "shout", "huge", "softly", "run"):
        for pos in PARTS_OF_SPEECH:
            senses = [s for s in known.senses(word) if s.pos == pos]
            assert [s.number for s in senses] == sorted(s.number for s in senses)
            assert 0 <= sum(s.share for s in senses) <= 1.02


def test_an_everyday_word_is_meant_as_at_home() -> None:
    # no source: a child's cake is to eat; WordNet's first is one of soap
    known = meanings()
    first = next(s for s in known.senses("cake") if s.pos == "noun")
    assert first.number == 1 and known.category(first.set) == "noun.food"


def test_a_word_without() -> None:
    assert meanings().senses("zzzz") == () and meanings().senses("") == ()
