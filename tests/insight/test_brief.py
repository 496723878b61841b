"""The brief: every word on it can be used, everything to avoid cannot; it fits one page."""

from __future__ import annotations

import pytest

from decodecheck.insight.advise import advise
from decodecheck.insight.brief import OTHER, WORDS, brief
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, DECODABLE, TRICKY
from decodecheck.lexicon.word_classes import word_class
from decodecheck.phonics.notes import false_digraphs
from decodecheck.progression.step_expression import Wanted, choose_step
from decodecheck.reports.brief import page
from decodecheck.reports.pages import text as page_text

from .demo import harbour, order_of

STEPS = (1, 4, 8, 14, 20, 27)
FEWEST = {1: 3, 4: 90, 8: 200, 14: 200, 20: 200, 27: 200}
"""At the least so many words at each step."""


@pytest.mark.parametrize("step", STEPS)
def test_every_word_of_a_brief_can_be_used(step: int) -> None:
    order = harbour()
    judge = Judge(order, step)
    b = brief(order, step)
    words = [w for _, group in b.words for w in group]
    assert FEWEST[step] <= len(words) <= WORDS and len(set(words)) == len(words)
    assert {judge.judge(w).status for w in words} == {DECODABLE}
    assert {judge.judge("I" if w == "I" else w.lower()).status for w in b.tricky} == {TRICKY}
    # none is left out: the tricky words of the order so far that cannot be decoded
    taught = {w for w, s in order.tricky.items() if s <= step and judge.judge("I" if w == "i" else w).status == TRICKY}
    assert {w.lower() for w in b.tricky} == taught
    for word in words:
        assert not false_digraphs(judge.lookup.readings(word.lower())[0].segments)


@pytest.mark.parametrize("step", STEPS[1:])
def test_what_to_avoid_cannot_be_read_yet(step: int) -> None:
    order = harbour()
    judge = Judge(order, step)
    b = brief(order, step)
    assert len(b.near_misses) > 5 and len(b.not_yet) >= 50
    for avoid in (*b.near_misses, *b.not_yet):
        assert 0 < avoid.count == len(avoid.words)
        statuses = [judge.judge(w).status for w in avoid.words]
        assert set(statuses) <= {BLOCKED, "unsure"} and (BLOCKED in statuses or avoid.count == 1), avoid
    assert all(a.though for a in b.near_misses) and not any(a.though for a in b.not_yet)


def test_bread_is_a_near_miss_though_ea_is_taught() -> None:
    # head, dead, read, ready: the same correspondence as bread, which is less common than 2,000 words
    b = brief(harbour(), 23)
    found = {a.name: a for a in b.near_misses}
    assert found["ea as in head"].though == ("leaf",)
    assert {"head", "dead", "death", "ready"} <= set(found["ea as in head"].words)


def test_two_hundred_words_by_class_once_there_are_so_many() -> None:
    b = brief(harbour(), 14)
    assert sum(len(group) for _, group in b.words) == WORDS
    assert len(b.words) > 8
    for label, group in b.words:
        assert group and {word_class(w) or label for w in group} == {label}


@pytest.mark.parametrize("step", [5, 13, 20, 26])
def test_words_that_no_one_has_read_have_a_class(step: int) -> None:
    by_class = dict(brief(harbour(), step).words)
    unread = [w for words in by_class.values() for w in words if not word_class(w)]
    assert len(unread) >= 10
    # a contraction that the table of classes lacks
    assert by_class.get(OTHER, ()) in ((), ("she'll",))


def test_a_group_leaves_out_what_it_has_not_been_taught() -> None:
    standing = choose_step(harbour(), Wanted("18 except ow as in town, oo as in good also igh as in light, -ed"))
    b = brief(standing.order, standing.step)
    taught = {t.text for t in b.taught}
    assert "oo (moon)" in taught and not any(t.startswith("ow") for t in taught)
    assert not {"town", "good", "now"} & {w for _, group in b.words for w in group}
    assert dict(b.endings)["-ed"] == 18


def test_structures_and_endings_name_what_comes_later() -> None:
    text = page_text.render(page(brief(harbour(), 12)))
    assert "CVCC, CCVC; not yet CCVCC (step 13), CCCVC (step 15)" in " ".join(text.split())


def test_an_empty_beginning() -> None:
    b = brief(order_of("step 1\n  teach p\n"), 1)
    assert not b.words
    assert "You may use" in page_text.render(page(b))


def test_a_word_that_can_be_read_in_one_sense_is_not_to_be_avoided() -> None:
    """The wind that blows can be read; to wind is another word. Nor does `advise` say that no step makes it readable."""
    order = order_of("step 1\n  teach w, i as in sit, n, d, k\n")
    page = brief(order, 1)
    avoided = [word for avoid in (*page.near_misses, *page.not_yet) for word in avoid.words]
    assert "kind" in avoided and "wind" not in avoided
    assert "wind" not in [word.word for word in advise(order, {"wind": 1, "kind": 1}).unreadable]
