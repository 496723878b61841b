"""Summaries are true: what is said of a text as a whole holds for every occurrence, whatever its sense and its capitals."""

import copy
from dataclasses import fields

import pytest

from decodecheck.checking.check import Checker
from decodecheck.judging.judge import Judge
from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.progression.resolve import load, resolve
from decodecheck.progression.step_expression import Wanted, choose_step
from decodecheck.source import SourceText
from tests.progression.test_step_expression import HARBOUR
from tests.reports.test_console import explained

BOW = (
    "step 1\n  teach a, b, c, d, e, f, g, h, i, k, l, m, n, o, p, r, s, t, u, w, sh, th, ng, er\n  tricky a, arrow, he, to, the, she\n"
    "step 2\n  teach ow as in grow\nstep 3\n  teach ow as in town\n"
)

SHIP = "step 1\n  teach i, p\nstep 2\n  teach sh\nstep 3\n  teach e\ncapitals from step 3\n"


@pytest.mark.parametrize(
    ("progression", "text"),
    [
        (BOW, "She had a bow and arrow. He had to bow to the king."),
        (BOW, "He had to bow to the king. She had a bow and arrow."),
        (SHIP, "ship Ship"),
        (SHIP, "Ship ship"),
    ],
)
def test_what_is_ready_from_a_step_has_no_error_there(progression: str, text: str) -> None:
    order, _ = resolve(progression, "x")
    report = Checker(Judge(order, 1)).check(SourceText("x", text))
    ready = report.ready_step()
    assert ready is not None
    assert Checker(Judge(order, ready)).check(SourceText("x", text)).errors == 0


def test_one_spelling_with_two_sounds_is_explained_twice() -> None:
    found = explained(
        "Tilda shot with a bow and arrow. Tilda had to bow to him.",
        "step 2\n  teach ow as in grow\nstep 3\n  teach ow as in town\n",
    )
    bows = [said for word, said in found if word == "b[ow]"]
    assert len(bows) == 2 and "as above" not in bows and bows[0] != bows[1]


def test_a_capital_is_no_reason_below_it() -> None:
    (_, one), (_, other), (_, again) = explained(
        "Beds. Teach. I teach. Teach.".replace("I ", "Ned "), "step 2\n  teach T\n"
    )
    assert one != other and other != "as above" and again == "as above"


def test_a_pinned_word_takes_s() -> None:
    order, problems = resolve(
        "step 1\n  teach z, o, g, s, n, v, i\nword Zog = z + o + g\nword Niamh = n + ia /iː/ + mh /v/\nstep 2\n  teach ee\n",
        "x",
    )
    assert not problems
    judge = Judge(order, 1)
    assert judge.judge("Zog").status == judge.judge("Zog's").status == "decodable"
    assert {b.grapheme for b in judge.judge("Niamh's").blockers} == {b.grapheme for b in judge.judge("Niamh").blockers}


def test_the_order_itself_is_left_alone_in_every_field() -> None:
    order = load(str(HARBOUR))
    before = {
        f.name: copy.deepcopy(getattr(order, f.name)) for f in fields(order) if f.name not in ("lexicon", "_unit_step")
    }
    choose_step(order, Wanted("14 also igh, D also tricky colonel except tricky said except ee"))
    assert {name: getattr(order, name) for name in before} == before


def test_a_stretched_word_is_its_commonest() -> None:
    assert Lookup("southern-british").find(plain_spelling("Sooooo")).word == "so"


@pytest.mark.parametrize(
    "text",
    [
        # tricky words that can be decoded from a later step on
        "He is so big. She has her net.",
        "So she and I go out. Is it as big?",
        "An e-mail! It is in the tin. Nettle ran.",
        "Bread is in the boat, and the cow said so.",
        (HARBOUR.parent / "texts/step-20/a-ticket-for-nettle.txt").read_text(encoding="utf-8"),
        (HARBOUR.parent / "texts/step-22/bake-day.txt").read_text(encoding="utf-8"),
    ],
)
def test_from_which_step_on_does_not_depend_on_the_step_of_the_check(text: str) -> None:
    order = load(str(HARBOUR))
    reports = [Checker(Judge(order, head.number)).check(SourceText("x", text)) for head in order.steps]
    assert len({report.ready_step() for report in reports}) == 1
    for words in zip(*(sorted(report.distinct.items()) for report in reports)):
        assert len({(word, found.first_step) for word, found in words}) == 1
    # and it is true: there is no error from there on, and one before
    ready = reports[0].ready_step()
    if ready is not None:
        assert [report.step for report in reports if not report.errors] == [
            head.number for head in order.steps if head.number >= ready
        ]
