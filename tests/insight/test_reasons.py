"""Each distinct word under its reason: by the short way and by verdicts alike, and what is said to help does help."""

import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.documents.document import Document
from decodecheck.insight import reasons as module
from decodecheck.insight.reasons import Told, needs, reasons
from decodecheck.judging.judge import Judge, judge_at
from decodecheck.judging.verdict import BLOCKED, UNSURE
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve
from decodecheck.progression.step_expression import Wanted, choose_step
from decodecheck.source import SourceText
from tests.insight.demo import order_of
from tests.second_opinion.draws import common, drawn, forms

ROOT = Path(__file__).parents[2]
STORIES = [p.read_text(encoding="utf-8") for p in sorted((ROOT / "tests/data/stories").glob("*.txt"))]
HARBOUR = str(ROOT / "corpora_demo" / "harbour-lane.progression")


def report(order: TeachingOrder, step: int, text: str) -> TextReport:
    return Checker(Judge(order, step)).check(Document("x.txt", text))


def without_letters(words: tuple[Told, ...]) -> list[tuple[str, int, str]]:
    return sorted((w.form, w.times, w.tricky_word) for w in words)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000))
def test_the_short_way_gives_the_same_reasons(seed: int) -> None:
    order, _ = drawn(seed)
    rng = random.Random(seed)
    text = " ".join([*rng.sample(common(), 250), *forms(rng, 50, order.pinned)])
    made = report(order, rng.choice(order.steps).number, text)
    long = reasons(made)
    before = module.MOST_MARKED
    try:
        module.MOST_MARKED = 0
        short = reasons(made)
    finally:
        module.MOST_MARKED = before
    assert [(r.name, r.step, without_letters(r.words)) for r in short.reasons] == [
        (r.name, r.step, without_letters(r.words)) for r in long.reasons
    ]
    assert without_letters(short.unknown) == without_letters(long.unknown)
    assert without_letters(short.undecided) == without_letters(long.undecided)
    # names are told without reasons there, so that one may stand once
    assert {w.form for w in short.names} == {w.form for w in long.names}
    assert short.help == long.help


@pytest.mark.parametrize("step", [6, 14, 20, 25])
@pytest.mark.parametrize("story", range(len(STORIES)))
def test_every_word_that_is_told_stands_under_one_reason(step: int, story: int) -> None:
    made = report(load(HARBOUR), step, STORIES[story][:20_000])
    found = reasons(made)
    told = [*found.names, *found.unknown, *found.undecided, *(w for r in found.reasons for w in r.words)]
    assert sum(w.times for w in told) == made.counts[BLOCKED] + made.counts[UNSURE]
    spelt = {plain_spelling(o.form).plain for o in made.occurrences if o.status in (BLOCKED, UNSURE)}
    assert {plain_spelling(w.form).plain for w in told} == spelt
    steps = [r.step for r in found.reasons]
    assert steps == sorted(steps) and all(s > step for s in steps)


@pytest.mark.parametrize("step", [10, 14, 18, 22])
def test_what_is_said_to_help_clears_so_many_words(step: int) -> None:
    order = load(HARBOUR)
    text = STORIES[2][:6000]
    made = report(order, step, text)
    found = reasons(made).help
    assert found is not None and len(found.changes) <= 3
    # the changes as a group's step expression: "14 also ee also tricky said"
    clauses = []
    for change in found.changes:
        verb, _, what = change.partition(" ")
        clauses.append(f"also {what}" if verb == "teach" else f"also {change}")
    standing = choose_step(order, Wanted(f"{step} {' '.join(clauses)}"))
    after = report(standing.order, standing.step, text)
    cleared = made.errors - after.errors
    # names are not counted, and may be cleared as well
    assert cleared >= found.cleared > len(found.changes)


def test_several_reasons_at_one_step_are_named_together() -> None:
    order, problems = resolve("step 1\n  teach b, r, d, t\nstep 2\n  teach ea as in head, i\nstep 3\n  teach l\n", "x")
    assert not problems
    found = reasons(report(order, 1, "bread bit lid bread bid lid lid"))
    assert [(r.name, r.step, r.times, [w.form for w in r.words]) for r in found.reasons] == [
        ("ea as in head", 2, 2, ["bread"]),
        ("i as in sit", 2, 2, ["bid", "bit"]),
        ("l as in leg", 3, 3, ["lid"]),
    ]


def test_nothing_helps_where_every_word_needs_its_own() -> None:
    order, _ = resolve("step 1\n  teach a, t\n", "x")
    assert reasons(report(order, 1, "ship bed")).help is None


def test_a_word_with_two_sounds_waits_for_both() -> None:
    order, _ = resolve(
        "step 1\n  teach r, d, w, h\n  tricky we\nstep 2\n  teach ea as in leaf\nstep 4\n  teach ea as in head\n", "x"
    )
    (reason,) = reasons(report(order, 1, "We read.")).reasons
    assert (reason.name, reason.step) == ("ea as in leaf, and the word's other sound", 4)


def test_what_a_group_has_missed_falls_away_at_no_step() -> None:
    order = load(HARBOUR)
    standing = choose_step(order, Wanted("20 except ow as in town"))
    (reason,) = reasons(report(standing.order, standing.step, "A town.")).reasons
    assert reason.step > order.last and reason.name == "ow as in town, left out for this group"


def test_what_one_word_alone_needs_is_taught_whole() -> None:
    """The a of the word a is no lesson; ea as in head is one, though bread alone has it here."""
    order = order_of("step 1\n  teach c, a as in cat, t, h, d, b, r\n")
    report = Checker(judge_at(order, 1)).check(SourceText("x.txt", "A cat had a hat. A cat had bread."))
    assert [(need.whole, set(need.lessons)) for need in needs(report)] == [
        ("tricky a", set()),
        ("tricky bread", {"teach ea as in head"}),
    ]
