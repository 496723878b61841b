"""What may stand for a word: its form, its part of speech, and what is never proposed."""

import csv
import io
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from decodecheck.checking.context import neighbours
from decodecheck.cli.main import run
from decodecheck.insight.related_words import KINDS
from decodecheck.insight.replace import Proposal, proposals, replacer
from decodecheck.insight.replacing import A_NAME, GRAMMAR, NONE_FITS, replacements
from decodecheck.judging.judge import judge_at
from decodecheck.judging.verdict import BLOCKED, DECODABLE, TRICKY
from decodecheck.lexicon.common_words import common_words, unfit_words
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.sounds import BRITISH
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load
from decodecheck.resources import PACKAGE
from decodecheck.session import Session

ROOT = Path(__file__).parents[2]
HARBOUR = ROOT / "corpora_demo" / "harbour-lane.progression"
NETTLE = "corpora_demo/texts/step-14/nettle-and-the-boat.txt"


@pytest.fixture(scope="module")
def order() -> TeachingOrder:
    return load(str(HARBOUR))


def at(order: TeachingOrder, step: int, sentence: str, word: str) -> tuple[Proposal, ...]:
    start = sentence.index(word)
    return proposals(order, step, word, around=neighbours(sentence, start, start + len(word)))


# no source: what a teacher who writes for the demo school would take
@pytest.mark.parametrize(
    ("step", "sentence", "word", "wanted"),
    [
        (20, "“No!” Shouted Omar.", "Shouted", "Yelled"),
        (20, "“No!” shouted Omar.", "shouted", "yelled"),
        (20, "She shouts at the gulls.", "shouts", "yells"),
        (20, "He is shouting at Nettle.", "shouting", "yelling"),
        (14, "The yacht is in the bay.", "yacht", "ship"),
        (14, "The yachts are in the bay.", "yachts", "ships"),
        (25, "It is the yacht's bell.", "yacht's", "ship's"),
        (25, "It is the yacht’s bell.", "yacht’s", "ship’s"),
        (14, "THE YACHT SANK.", "YACHT", "SHIP"),
        (12, "It was a huge hat.", "huge", "big"),
        (12, "Nettle trotted off.", "trotted", "ran"),
        (20, "He fetched the bucket.", "bucket", "pail"),
    ],
)
def test_it_has_the_form_of_the_word(order: TeachingOrder, step: int, sentence: str, word: str, wanted: str) -> None:
    assert wanted in [p.word for p in at(order, step, sentence, word)]


def test_a_noun_never_stands_for_a_verb(order: TeachingOrder) -> None:
    assert {p.pos for p in at(order, 27, "I will plant it.", "plant")} <= {"verb"}
    assert {p.pos for p in at(order, 27, "The plant is big.", "plant")} <= {"noun"}


def test_the_other_article_is_told(order: TeachingOrder) -> None:
    made = {p.word: p.article for p in at(order, 20, "It was an enormous hat.", "enormous")}
    assert made["big"] == "a"
    made = {p.word: p.article for p in at(order, 20, "It was a huge hat.", "huge")}
    assert (made["big"], made["immense"]) == ("", "an")


# each was proposed once; no source: none of them would do in a story
@pytest.mark.parametrize(
    ("step", "sentence", "word", "unwanted"),
    [
        (27, "He says it needs jam.", "says", "tells"),
        (27, "I would say that Nettle is slow.", "say", "remark"),
        (27, "All the people ran.", "people", "mortals"),
        (27, "He was a good boy.", "boy", "man"),
        (27, "He had a blue cape.", "cape", "ness"),
        (27, "She went home the long way.", "way", "manner"),
        (27, "It was at a low figure.", "figure", "fig"),
        (27, "The cows ran off.", "cows", "beefs"),
        (27, "He had made bread.", "bread", "bun"),
        (27, "It is of much consequence to him.", "consequence", "effect"),
        (27, "Take hold of the rope.", "hold", "keep"),
        (27, "He sat on the stair.", "stair", "shelf"),
        (27, "There is a door in a wall.", "wall", "attic"),
        (27, "“No!” cried Omar.", "cried", "wept"),
        (27, "The wind was howling.", "howling", "fantastic"),
        (27, "She has a bad tongue.", "tongue", "organ"),
        (27, "It is a red coat.", "red", "pink"),
    ],
)
def test_what_would_not_do_is_not_proposed(
    order: TeachingOrder, step: int, sentence: str, word: str, unwanted: str
) -> None:
    assert unwanted not in [p.word for p in at(order, step, sentence, word)]


def test_no_meaning_that_a_classroom_does_without(order: TeachingOrder) -> None:
    # WordNet's second sense of seat, which has ruder names as well
    assert not {"bottom", "buns", "rear"} & {p.word for p in proposals(order, 27, "seat", number=50)}


COMMON = common_words(lexicon(BRITISH), 3000)


@given(st.sampled_from(COMMON), st.integers(5, 27))
def test_what_is_proposed_can_be_read_and_is_fit(word: str, step: int) -> None:
    order = load_once()
    judge = judge_at(order, step)
    for p in proposals(order, step, word, number=50):
        verdict = judge.judge(p.word)
        assert verdict.status in (DECODABLE, TRICKY) and verdict.first_step == p.first_step <= step
        assert p.word != word and p.kind in KINDS and p.word.lower() not in unfit_words()
        assert not judge.is_name(p.word.capitalize())


def load_once(found: list[TeachingOrder] = []) -> TeachingOrder:  # noqa: B006 (the default is what is kept from call to call)
    if not found:
        found.append(load(str(HARBOUR)))
    return found[0]


@given(st.text(max_size=12), st.integers(1, 27))
def test_any_form_has_an_answer(form: str, step: int) -> None:
    for p in proposals(load_once(), step, form):
        assert p.word


def test_the_same_whatever_was_asked_before() -> None:
    one, other = load(str(HARBOUR)), load(str(HARBOUR))
    words = COMMON[200:260]
    forwards = [proposals(one, 22, word) for word in words]
    assert forwards == [proposals(other, 22, word) for word in reversed(words)][::-1]
    assert any(forwards)


def test_each_blocked_word_of_a_text_is_told_once() -> None:
    text = "Nettle shouted. Nettle Shouted! Could he? Omar saw Tamsin at the yacht. The yacht sank."
    report = Session(str(HARBOUR), "14").check_text(text)
    made = replacements(report)
    assert [(w.word, len(w.places)) for w in made.words if w.word.lower() in ("shouted", "yacht")] == [
        ("shouted", 2),
        ("yacht", 2),
    ]
    blocked = {text[s:e].lower() for s, e, entry in report.sites if report.verdict(entry).status == BLOCKED}
    assert {w.word.lower() for w in made.words} == blocked
    assert {w.word: w.reason for w in made.words if w.reason} | {"Could": GRAMMAR} == {
        w.word: w.reason for w in made.words if w.reason
    }
    assert all(bool(w.proposals) != bool(w.reason) for w in made.words)


def test_why_there_is_none(order: TeachingOrder) -> None:
    report = Session(str(HARBOUR), "5").check_text("I sat with Cuthbert and the mouse.")
    reasons = {w.word: w.reason for w in replacements(report).words}
    assert reasons["Cuthbert"] == A_NAME
    assert reasons["mouse"] in ("", NONE_FITS)
    assert replacer(order, 5).readings("mouse")


def test_the_command(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(ROOT)
    assert run(["replace", NETTLE, "--format", "json"]) == 0
    made = json.loads(capsys.readouterr().out)
    schema = json.loads((PACKAGE / "reports" / "replace-1.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(made)
    (file,) = made["files"]
    assert [w["word"] for w in file["words"]] == ["yacht", "jumped", "Splash", "Pull", "tail", "cold", "Where"]
    assert run(["replace", NETTLE, "--format", "csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) == sum(max(len(w["proposals"]), 1) for w in file["words"])
    assert run(["replace", NETTLE, "--word", "YACHT", "--number", "1"]) == 0
    assert capsys.readouterr().out.count("of the same kind") == 1
    assert run(["replace", NETTLE, "--word", "bell"]) == 2
    assert "“bell” is not among the blocked words" in capsys.readouterr().err
    assert run(["replace", "corpora_demo/wordlists/step-23-ow.csv"]) == 2
    assert "This is a word list" in capsys.readouterr().err
    target = tmp_path / "r.json"
    assert run(["replace", "corpora_demo", "-o", str(target)]) == 0
    assert len(json.loads(target.read_text(encoding="utf-8"))["files"]) == 8
