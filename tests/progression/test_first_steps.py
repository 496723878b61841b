"""From which steps words can be read, told by the teaching order alone."""

from __future__ import annotations

import random

import pytest

from decodecheck.judging.judge import Judge
from decodecheck.lexicon.store import NEVER, tables
from decodecheck.progression.first_steps import FirstSteps, by_sense, first_steps, tricky_step
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from tests.checking.random_orders import common_words, random_order

HARBOUR = """
step 1
  teach s, a, t, p, i, n, m, d, g, o
step 2
  teach e, r, l, f, b, u
step 3
  tricky friend, said
step 4
  teach -s, -ing
step 5
  teach ow as in town
step 6
  teach ow as in grow
"""


def order_of(text: str) -> TeachingOrder:
    order, problems = resolve(text, "harbour.progression")
    assert [p for p in problems if not p.note] == []
    return order


@pytest.fixture(scope="module")
def harbour() -> TeachingOrder:
    return order_of(HARBOUR)


@pytest.mark.parametrize(
    ("word", "expected"),
    [
        ("pat", (1, NEVER)),
        ("net", (2, NEVER)),
        ("friend", (NEVER, 3)),
        ("friends", (NEVER, 4)),  # the tricky word with its ending
        ("bow", (6, NEVER)),  # in both its senses
        ("unsnagging", (4, NEVER)),  # from its parts: no dictionary lists it
        ("zqx", (NEVER, NEVER)),
        ("sheep", (NEVER, NEVER)),
    ],
)
def test_the_first_steps_of_a_word(harbour: TeachingOrder, word: str, expected: tuple[int, int]) -> None:
    steps = first_steps(harbour)
    assert steps.of(word) == expected
    assert (steps.decodable(word), steps.readable(word)) == (expected[0], min(expected))


def test_the_unlisted_word_is_unlisted(harbour: TeachingOrder) -> None:
    assert not harbour.lexicon.has("unsnagging") and harbour.lexicon.has("bow")


def test_a_pinned_word_goes_by_its_reading() -> None:
    pinned = order_of(HARBOUR + "word Zog = z + o + g\nword said = s + ai /e/ + d\nword bow = b + ow /aʊ/\n")
    # nothing teaches z; ai is never taught; and of the senses of bow there is one left
    assert [first_steps(pinned).of(w) for w in ("zog", "said", "bow")] == [(NEVER, NEVER), (NEVER, 3), (5, NEVER)]
    with_z = order_of(HARBOUR + "step 7\n  teach z\nword Zog = z + o + g\n")
    # and a form of it by that reading and its ending
    assert [first_steps(with_z).of(w) for w in ("zog", "zogs")] == [(7, NEVER), (7, NEVER)]


def test_the_order_keeps_what_it_was_asked(harbour: TeachingOrder) -> None:
    assert first_steps(harbour) is first_steps(harbour)
    assert FirstSteps(harbour).of("friends") == first_steps(harbour).of("friends")


@pytest.mark.parametrize("seed", range(4))
def test_the_vector_and_the_readings_agree(seed: int) -> None:
    order, _ = random_order(seed)
    steps = first_steps(order)
    for word in random.Random(seed).sample(common_words(300), 300):
        readings = steps.lookup.readings(word)
        decodable = max((step for _, step in by_sense(order, readings)), default=NEVER)
        assert steps.of(word) == (decodable, tricky_step(order, word, readings) or NEVER), word


@pytest.mark.parametrize("seed", range(4))
def test_a_judge_at_any_step_agrees(seed: int) -> None:
    order, _ = random_order(seed)
    known = tables()
    words = [w for w in common_words(300) if len(w) > 1 and not known.is_name[known.number(w)]]
    judge = Judge(order, order.steps[0].number)
    for word in random.Random(seed).sample(words, 300):
        readings = judge.lookup.readings(word)
        if len({r.sense for r in readings}) == 1:
            assert judge.judge(word).first_step == first_steps(order).readable(word), word
