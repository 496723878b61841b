"""The table by step: its counts against judging word by word, odd parts, confusable lessons, what a standard has beyond."""

from __future__ import annotations

import pytest

from decodecheck.insight.naming import odd_part, step_name
from decodecheck.insight.overview import SIZES, overview
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import DECODABLE, TRICKY
from decodecheck.lexicon.common_words import common_words
from decodecheck.progression.first_steps import first_steps
from decodecheck.progression.meanings import choices
from decodecheck.reports.overview import page
from decodecheck.reports.page import Display

from .demo import harbour, order_of


@pytest.mark.parametrize("step", [1, 4, 8, 14, 21, 27])
def test_counts_are_those_of_judging_each_word(step: int) -> None:
    order = harbour()
    judge = Judge(order, step)
    row = next(r for r in overview(order, order.last).rows if r.number == step)
    for size, readable in zip(SIZES, row.readable):
        verdicts = [judge.judge("I" if w == "i" else w) for w in common_words(order.lexicon, size)]
        assert readable.decodable == sum(v.status == DECODABLE for v in verdicts)
        assert readable.with_tricky == sum(v.status in (DECODABLE, TRICKY) for v in verdicts)


def test_what_is_new_adds_up() -> None:
    rows = overview(harbour(), 27).rows
    for i in range(len(SIZES)):
        total = 0
        for row in rows:
            total += row.readable[i].new
            assert total == row.readable[i].decodable


def test_the_commonest_words_hold_those_of_a_standard() -> None:
    # source: Common Core State Standards 2010, RF.K.3c names these as common high-frequency words
    named = {"the", "of", "to", "you", "she", "my", "is", "are", "do", "does"}
    assert named <= set(common_words(harbour().lexicon, 500))


@pytest.mark.parametrize(
    ("word", "odd"),
    [
        # the sounds are those of any pronouncing dictionary; the familiar words are the project's own
        ("said", "ai like e in bed"),
        ("was", "a like o in hot; s like z in zip"),
        ("of", "f like v in van"),
        ("one", "o like w in win and u in cup"),
        ("laugh", "au like ar in car; gh like f in fish"),
        ("put", "u like oo in book"),
        ("once", "o like w in win and u in cup; c like s in sun"),
        ("because", "au like o in hot; s like z in zip"),
        ("she", "e like ee in see"),
        ("the", "e like er in sister"),
        ("friend", "ie like e in bed"),
    ],
)
def test_the_odd_part_of_a_tricky_word(word: str, odd: str) -> None:
    order = harbour()
    assert odd_part(order, word, order.tricky[word]) == odd


def test_a_tricky_word_that_can_be_decoded_has_no_odd_part() -> None:
    order = harbour()
    assert odd_part(order, "is", 24) == ""


def test_confusable_lessons_close_together() -> None:
    order = order_of(
        "step 1\n  teach b, a\nstep 2\n  teach d\nstep 4\n  teach p\nstep 9\n  teach m\nstep 10\n teach i\nstep 11\n teach n\n"
    )
    found = {(n.one, n.one_step, n.other, n.other_step) for n in overview(order, 11).neighbours}
    # what counts is how many steps there are between two, not their numbers: 4 is the second step after 1
    assert found == {("b", 1, "d", 2), ("d", 2, "p", 4), ("b", 1, "p", 4), ("m", 9, "n", 11)}


def test_one_grapheme_with_two_sounds_in_neighbouring_steps() -> None:
    order = order_of(
        "step 1\n  teach ow as in town\nstep 2\n  teach ow as in grow\nstep 3\n  teach oo as in moon and book\n"
    )
    found = [(n.one, n.other, n.why) for n in overview(order, 3).neighbours]
    assert found == [("ow as in town", "ow as in grow", "one grapheme, two sounds")]


def test_up_to_a_step() -> None:
    assert [r.number for r in overview(harbour(), 3).rows] == [1, 2, 3]


def test_key_words_are_everyday_ones() -> None:
    taught = {t.name: t.words for row in overview(harbour(), 27).rows for t in row.taught}
    assert (taught["o"], taught["u"], taught["th"], taught["ow"]) == (("go",), ("sun",), ("thin", "this"), ("grow",))
    assert all(c.key_word for c in choices("th", "southern-british"))


def test_key_words_can_be_read_when_they_are_taught_and_stand_once() -> None:
    order = harbour()
    lessons = [t for row in overview(order, 27).rows for t in row.taught]
    free = [t for t in lessons if t.mention.kind == "correspondence" and " as in " not in t.mention.label]
    later = {w for t in free for w in t.words if first_steps(order).decodable(w) > t.mention.step}
    assert not later
    words = [w for t in lessons for w in t.words]
    assert sorted(words) == sorted(set(words))


def test_a_step_whose_title_has_its_number_is_named_once() -> None:
    assert step_name(3, "Week 3") == "Week 3"
    assert step_name(3, "Week 3, autumn") == "Week 3, autumn"
    assert step_name(3, "autumn") == "3 autumn"
    assert step_name(2, "2 weeks before half term") == "2 2 weeks before half term"
    assert step_name(3, "Week 31") == "3 Week 31"
    assert step_name(3, "") == "Step 3"


def test_lessons_of_two_sounds_show_both() -> None:
    (display,) = [b for b in page(overview(harbour(), 27)).blocks if isinstance(b, Display)]
    (card,) = [c for c in display.cards if c.name == "Step 15"]
    assert card.graphemes == (("oo", "spoon"), ("oo", "good"), ("ar", "car"))
