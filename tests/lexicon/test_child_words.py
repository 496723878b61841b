"""The estimate of how common a word is in books for young children: its formula, its column, what it is held against."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.lexicon.child_words import (
    EVERYDAY,
    FUNCTION,
    LEAST,
    MOST,
    PARTS,
    UNKNOWN,
    Evidence,
    categories,
    class_by_category,
    estimate,
    evidence_of,
    is_learned,
    listed_evidence,
    parts,
    weights,
)
from decodecheck.lexicon.common_words import common_words, unfit_words
from decodecheck.lexicon.compiling import broad_categories
from decodecheck.lexicon.compiling.audit_child import correlations, rank_correlation
from decodecheck.lexicon.compiling.count_books import table
from decodecheck.lexicon.meanings import CATEGORIES
from decodecheck.lexicon.store import lexicon, tables
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table
from tests.data.folder import DATA

CHILD = rules_folder() / "child"


def child_zipf(word: str) -> int:
    return int(tables().child_zipf[tables().number(word)])


def evidence(word: str) -> Evidence:
    found = listed_evidence(tables(), word)
    assert found
    return found


# -- the formula --------------------------------------------------------------------------------------------------------


def test_the_sum_by_hand() -> None:
    w = weights()
    e = Evidence("helpful", 443, 2, count=9, base=131, family=99, category="adj.all", everyday=True)
    # log10 of 1 + 9 is 1; a family counts up to 9 words, which is 1 again
    by_hand = w["start"] + 4.43 * w["general"] + w["books"] + w["syllable"] + 1.31 * w["base"] + w["family"]
    by_hand += w["everyday"] + w["adj.all"]
    assert estimate(e) == round(100 * by_hand)
    assert {p.name for p in parts(e)} == {*PARTS, "adj.all"} - {"learned"}


def test_parts_stop_at_their_limits() -> None:
    # five syllables are the most that count, two steps the most that a commoner word in it gives
    assert estimate(Evidence("x", 300, 9)) == estimate(Evidence("x", 300, 5)) < estimate(Evidence("x", 300, 4))
    assert estimate(Evidence("x", 300, 1, base=500)) == estimate(Evidence("x", 300, 1, base=200))
    assert estimate(Evidence("x", 0, 5, category="adj.pert")) >= LEAST
    assert estimate(Evidence("x", 900, 1, count=65535, family=9, category="noun.food", everyday=True)) == MOST


@pytest.mark.parametrize("word", ["decision", "government", "numerous", "activity", "biology", "nations"])
def test_learned_endings(word: str) -> None:
    assert is_learned(word, 3) and not is_learned(word, 2)


@pytest.mark.parametrize("word", ["elephant", "banana", "butterfly", "tomorrow", "umbrella"])
def test_endings_that_are_not_learned(word: str) -> None:
    assert not is_learned(word, 3)


def test_every_category_has_a_weight_with_a_reason() -> None:
    assert set(categories()) == {*CATEGORIES, FUNCTION, UNKNOWN}
    rows = read_table(CHILD / "weights.tsv")
    assert [row["part"] for row in rows[: len(PARTS)]] == list(PARTS)
    assert all(len(row["why"]) > 10 and row["why"].endswith(".") for row in rows)


# -- the column ---------------------------------------------------------------------------------------------------------


def test_the_column_is_the_formula() -> None:
    known = tables()
    assert all(child_zipf(w) == estimate(evidence(w)) for w in [*known.words()[::97], "the", "cat", "decisions"])
    assert min(known.child_zipf) >= LEAST


def test_what_a_word_goes_by() -> None:
    counts = {row["word"]: int(row["count"]) for row in read_table(CHILD / "books.tsv")}
    # a word counts with its regular forms, a form by itself
    assert evidence("rabbit").count == counts["rabbit"] + counts["rabbits"]
    assert evidence("rabbits").count == counts["rabbits"]
    assert evidence("helpful").base > 0 == evidence("helps").base
    assert evidence("cats").everyday and evidence("cats").category == "noun.animal"
    # a form of an everyday word is everyday if it is a noun or a verb
    assert evidence("back").everyday and not evidence("backs").everyday
    assert evidence("feet").category == "noun.body" and evidence("he").category == FUNCTION
    assert evidence("sun").family > 10


def test_an_unlisted_word_has_what_is_known_of_it() -> None:
    reading = lexicon("british").readings("cat")[0]
    assert tables().number("barnacled") == -1
    assert evidence_of("barnacled", reading) == Evidence("barnacled", 110, 1)
    assert evidence_of("flumb", reading) is None


# -- what it says -------------------------------------------------------------------------------------------------------


def test_children_s_words_come_before_adults_words() -> None:
    # the words that the estimate was asked for
    assert min(map(child_zipf, ["cat", "dad", "red", "fish", "moon"])) > max(
        map(child_zipf, ["god", "tax", "stock", "department"])
    )


# Topics of books for children against those of a newspaper; the words are the project's own.
@pytest.mark.parametrize("child", ["donkey", "puddle", "teddy", "pancake", "snowman", "puppy"])
@pytest.mark.parametrize("adult", ["policy", "committee", "investment", "statement", "legislation", "revenue"])
def test_a_rare_word_of_children_comes_before_a_frequent_one_of_adults(child: str, adult: str) -> None:
    assert tables().zipf[tables().number(child)] < tables().zipf[tables().number(adult)]
    assert child_zipf(child) > child_zipf(adult)


@cache
def judged() -> dict[str, list[tuple[str, float]]]:
    """The words whose age of learning was judged for the project, by set."""
    found: dict[str, list[tuple[str, float]]] = {}
    for row in read_table(DATA / "judged_words.tsv"):
        found.setdefault(row["set"], []).append((row["word"], float(row["age"])))
    return found


def agreement(name: str, oldest: float = 99) -> tuple[float, float, int]:
    """Rank correlation of the estimate, and of general frequency alone, with how early the words of a set are learnt, and how
    many words there are that are learnt by an age."""
    rows = [(w, age) for w, age in judged()[name] if age <= oldest]
    early = [-age for _, age in rows]
    zipf = [tables().zipf[tables().number(w)] for w, _ in rows]
    return rank_correlation([child_zipf(w) for w, _ in rows], early), rank_correlation(zipf, early), len(rows)


BANDS = ((0, 2), (2, 3), (3, 4), (4, 9))
"""Zipf frequencies in general English, from and below which words are taken together."""


def agreement_in(least: float, below: float) -> tuple[float, float, int]:
    """The same over all judged words that are so common in general, the trial's and those held out: within a band there is
    less to tell apart, so every correlation is lower than over all."""
    rows = [
        (child_zipf(w), int(tables().zipf[tables().number(w)]), -age)
        for words in judged().values()
        for w, age in words
        if least * 100 <= tables().zipf[tables().number(w)] < below * 100
    ]
    ours, alone, early = zip(*rows)
    return rank_correlation(ours, early), rank_correlation(alone, early), len(rows)


@pytest.mark.parametrize(("least", "below"), BANDS)
def test_judged_words_that_are_as_common(least: float, below: float) -> None:
    ours, alone, count = agreement_in(least, below)
    assert count > 80
    assert ours > alone + 0.25 and ours > 0.5


@pytest.mark.parametrize(
    ("name", "oldest", "estimated", "frequency"),
    [("trial", 99, 0.79, 0.61), ("held out", 99, 0.755, 0.59), ("trial", 13, 0.71, 0.47), ("held out", 13, 0.66, 0.40)],
)
def test_judged_words(name: str, oldest: float, estimated: float, frequency: float) -> None:
    ours, alone, count = agreement(name, oldest)
    assert count > 140
    assert ours == pytest.approx(estimated, abs=0.015)
    assert alone == pytest.approx(frequency, abs=0.015)


def test_rank_correlation() -> None:
    # Spearman's own formula for ranks without ties: 1 - 6 * sum of squared differences / n (n^2 - 1)
    assert rank_correlation([10, 20, 30, 40], [1, 3, 2, 4]) == pytest.approx(1 - 6 * 2 / (4 * 15))
    # two that are equal share ranks 2 and 3
    assert rank_correlation([1, 2, 2, 3], [1, 2.5, 2.5, 4]) == pytest.approx(1)


def test_each_part_has_its_say() -> None:
    words = common_words(lexicon("british"), 20_000)
    found = correlations(words)
    assert found["general frequency"] > 0.5 and found["times in old books for children"] > 0.4
    assert found["syllables"] < -0.2 and found["learned ending"] < 0 < found["words made with it"]


# -- the files, and where it is told ------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["books", "categories", "everyday"])
def test_tables_are_sorted_and_of_known_words(name: str) -> None:
    words = [row["word"] for row in read_table(CHILD / f"{name}.tsv")]
    assert words == sorted(set(words))
    known = {row["word"] for row in read_table(rules_folder() / "frequency" / "zipf.tsv")}
    assert set(words) <= known
    assert len(words) >= {"books": 12_000, "categories": 40_000, "everyday": 1_300}[name]


def test_everyday_words_are_fit_for_school() -> None:
    unfit = {w for w, kind in unfit_words().items() if kind in ("unsuitable", "no word")}
    assert not unfit & {row["word"] for row in read_table(CHILD / "everyday.tsv")}


def test_explain_shows_the_parts(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", "donkey"]) == 0
    said = capsys.readouterr().out
    e = evidence("donkey")
    assert f"+{weights()[EVERYDAY]:.2f}  everyday: a word of home and school" in said
    assert f"{estimate(e) / 100:5.2f}  in all (Zipf)" in said
    block = said.partition("in books for young children")[2].splitlines()[1:]
    shown = [float(line.split()[0]) for line in block if line.startswith("    ")]
    assert sum(shown[:-1]) == pytest.approx(shown[-1], abs=0.03)


def test_jsonl_carries_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", "cat", "flumb", "12", "--format", "jsonl"]) == 0
    found = [json.loads(line)["child_zipf"] for line in capsys.readouterr().out.splitlines()]
    assert found == [child_zipf("cat") / 100, None, None]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("cannon napkin ducklings kitchens", "noun"), ("growling emptied attach sob nailing", "verb"),
        ("grumpy faithful", "adjective"), ("firmly lightly", "adverb"), ("she'll", ""), ("beijing", "noun"),
    ],
)  # fmt: skip
def test_a_class_for_words_that_no_one_has_read(words: str, expected: str) -> None:
    known = lexicon("british")
    for word in words.split():
        assert class_by_category(word, known.readings(word)[0]) == expected, word


# -- the commands that make the tables -----------------------------------------------------------------------------------


def test_counting_books() -> None:
    one = "I saw Nettle. God bless the donkey,\u201d said Tilda; the donkey didn\u2019t mind."
    two = "THE END of the donkey\u2019s day. I'm glad"
    rows = table([one, two], ["i", "the", "donkey", "didn't", "i'm", "god", "saw", "zebra"]).splitlines()
    # a capital is a name's or a sentence's first word; only I keeps its own
    assert rows[-6:] == ["didn't\t1\t1", "donkey\t2\t1", "i\t1\t1", "i'm\t1\t1", "saw\t1\t1", "the\t3\t2"]


def test_a_small_database_of_categories(tmp_path: Path) -> None:
    # two nouns, one of them also a name, in the form of WordNet's files (man page wndb)
    for pos in ("noun", "verb", "adj", "adv"):
        for name in (f"index.{pos}", f"data.{pos}", f"{pos}.exc"):
            (tmp_path / name).write_text("", encoding="utf-8")
    head = "  1 This software and database\n"
    index = "kite n 2 0 2 1 00000002 00000001\nfoot n 1 0 1 0 00000003\n"
    data = "00000001 06 n 01 kite 0 000 | a toy\n00000002 05 n 02 kite 0 glede 0 000 | a bird\n00000003 08 n 01 foot 0 000 | a part\n"
    (tmp_path / "index.noun").write_text(head + index, encoding="utf-8")
    (tmp_path / "data.noun").write_text(head + data, encoding="utf-8")
    (tmp_path / "noun.exc").write_text("feet foot\n", encoding="utf-8")
    (tmp_path / "cntlist.rev").write_text("kite%1:06:00:: 2 7\n", encoding="utf-8")
    rows = broad_categories.table(tmp_path, ["kite", "feet", "foot", "might", "zebra"]).splitlines()
    assert rows[-4:] == ["feet\tnoun.body", "foot\tnoun.body", "kite\tnoun.artifact", "might\tfunction"]
