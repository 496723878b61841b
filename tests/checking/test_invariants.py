"""Invariants of the judgement, over real words and invented orders of teaching."""

from functools import cache
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, DECODABLE
from decodecheck.lexicon.store import NEVER, tables
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve
from decodecheck.reports.words import Explainer
from decodecheck.source import SourceText

DEMO = Path(__file__).parents[2] / "corpora_demo" / "harbour-lane.progression"


@cache
def order() -> TeachingOrder:
    return load(str(DEMO))


@cache
def judge(step: int) -> Judge:
    return Judge(order(), step)


COMMON = [w for w in tables().words() if tables().zipf[tables().number(w)] >= 300]
WORD = st.sampled_from(COMMON)
STEP = st.integers(1, 27)


@settings(max_examples=500, deadline=None)
@given(WORD, STEP)
def test_a_later_step_never_blocks_what_an_earlier_one_allowed(word: str, step: int) -> None:
    order_of_statuses = {"decodable": 0, "tricky": 0, "allowed": 0, "unsure": 1, "blocked": 2, "unjudged": 0}
    now, later = judge(step).judge(word).status, judge(min(27, step + 3)).judge(word).status
    assert order_of_statuses[later] <= order_of_statuses[now]


@settings(max_examples=500, deadline=None)
@given(WORD | WORD.map(str.capitalize) | WORD.map(str.upper), STEP)
def test_the_short_way_says_what_the_long_way_says(form: str, step: int) -> None:
    verdict = judge(step).judge(form)
    # one that knows nothing of the form yet, and one that has judged it
    assert Judge(order(), step).status(form) == (verdict.status, verdict.first_step)
    assert judge(step).status(form) == (verdict.status, verdict.first_step)


@settings(max_examples=300, deadline=None)
@given(WORD, STEP)
def test_teaching_exactly_the_blockers_clears_the_word(word: str, step: int) -> None:
    verdict = judge(step).judge(word)
    if verdict.status != BLOCKED or any(b.cause == "irregular" for b in verdict.blockers):
        return
    fresh = load(str(DEMO))
    fresh.item_step |= {b.item: step for b in verdict.blockers}
    # the guards of what is now mentioned stay as they were: only the blockers are new
    assert Judge(fresh, step).judge(word).status in (DECODABLE, "tricky", "unsure")


@settings(max_examples=200, deadline=None)
@given(WORD, STEP)
def test_first_step_is_the_first(word: str, step: int) -> None:
    verdict = judge(step).judge(word)
    if verdict.status in ("unsure", "unjudged"):
        return
    readable = verdict.status in (DECODABLE, "tricky", "allowed")
    assert readable == (verdict.first_step <= step)
    assert verdict.first_step <= 27 or verdict.first_step == NEVER


# once the check settled the sense of these by their standing alone
@example("blessed")
@example("dove")
@example("read")
@example("reread")
@example("wound")
@settings(max_examples=200, deadline=None)
@given(WORD)
def test_check_and_explain_agree(word: str) -> None:
    explained = Explainer(order().accent, order()).explain(word)
    report = Checker(judge(27)).check(SourceText("x", word), every_word=True)
    for at in report.words:
        assert explained.verdict is not None
        assert at.verdict.first_step == explained.verdict.first_step
        assert at.verdict.status == explained.verdict.status


def test_one_word_is_a_sentence_where_a_mark_ends_it() -> None:
    for text, decided in (("read", False), ("\nread\n\n", False), ("Read!", True), ("“Read!” said Omar.", True)):
        report = Checker(judge(27)).check(SourceText("x", text), every_word=True)
        (at,) = [at for at in report.words if at.word.lower() == "read"]
        assert (at.verdict.status == DECODABLE) is decided, text


def test_moving_an_item_later_blocks_until_then() -> None:
    text = "step 1\n  teach a, i, m, n, s\nstep 2\n  teach d\nstep 5\n  teach sh\n"
    moved = text.replace("step 2\n  teach d\n", "step 3\n  teach sh\nstep 4\n  teach d\n").replace(
        "step 5\n  teach sh\n", ""
    )
    one, _ = resolve(text, "a")
    other, _ = resolve(moved, "b")
    for word in ("mad", "din", "dam", "sand"):
        assert Judge(one, 2).judge(word).status == DECODABLE
        assert Judge(other, 3).judge(word).status == BLOCKED
        assert Judge(other, 4).judge(word).status == DECODABLE
