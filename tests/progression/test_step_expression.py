"""Steps with lag, also and except: what each changes, and that it changes nothing else."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.errors import UserError
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, DECODABLE, EXCEPTED, TRICKY
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve
from decodecheck.progression.step_expression import Standing, Wanted, choose_step
from decodecheck.session import Session

HARBOUR = Path(__file__).parents[2] / "corpora_demo" / "harbour-lane.progression"


@pytest.fixture(scope="module")
def order() -> TeachingOrder:
    return load(str(HARBOUR))


def status(standing: Standing, word: str) -> str:
    return Judge(standing.order, standing.step).judge(word).status


@pytest.mark.parametrize(
    ("expression", "step", "word", "plain", "changed"),
    [
        ("14", 14, "sheep", DECODABLE, DECODABLE),
        ("14 lag 1", 13, "sheep", DECODABLE, BLOCKED),
        ("14 also igh as in light", 14, "night", BLOCKED, DECODABLE),
        ("14 also igh", 14, "night", BLOCKED, DECODABLE),
        ("14 also o as in go, at word end; e as in me, at word end", 14, "so", TRICKY, DECODABLE),
        ("14 also -er", 14, "faster", BLOCKED, BLOCKED),
        ("17 except -er", 17, "boxer", DECODABLE, BLOCKED),
        ("14 except structure CVCC", 14, "jump", DECODABLE, BLOCKED),
        ("14 also tricky laugh", 14, "laugh", BLOCKED, TRICKY),
        ("14 except tricky said", 14, "said", TRICKY, BLOCKED),
        ("14 except together nk", 14, "pink", DECODABLE, BLOCKED),
        ("15 except oo as in good", 15, "good", DECODABLE, BLOCKED),
        ("15 except oo as in good", 15, "spoon", DECODABLE, DECODABLE),
        ("15 except oo as in good also igh lag 1", 14, "night", BLOCKED, DECODABLE),
        ("Spring, First Week also ee", 11, "sheep", BLOCKED, DECODABLE),
        ("spring, first week lag 1", 10, "wheel", BLOCKED, BLOCKED),
    ],
)
def test_what_a_clause_changes(
    order: TeachingOrder, expression: str, step: int, word: str, plain: str, changed: str
) -> None:
    # what decodes what at which step is read off the demo's progression by hand
    standing = choose_step(order, Wanted(expression))
    assert standing.step == step
    base = expression.split(" ")[0]
    assert status(choose_step(order, Wanted(base if base.isdigit() else "11")), word) == plain
    assert status(standing, word) == changed
    assert not standing.notes or "except oo" in expression


EVERY_CHANGE = (
    "14 also igh, D also -er also tricky laugh also structure CCVCC except tricky said except ee except together nk"
)


def test_the_order_itself_is_left_alone(order: TeachingOrder) -> None:
    before = {f.name: deepcopy(getattr(order, f.name)) for f in fields(order)}
    changed = choose_step(order, Wanted(EVERY_CHANGE)).order
    assert (
        changed.item_step != order.item_step and changed.tricky != order.tricky and changed.capitals != order.capitals
    )
    assert {f.name: getattr(order, f.name) for f in fields(order)} == before


def test_a_group_shares_nothing_that_changes_with_its_class(order: TeachingOrder) -> None:
    changed = choose_step(order, Wanted(EVERY_CHANGE)).order
    values = {f.name: (getattr(changed, f.name), getattr(order, f.name)) for f in fields(order)}
    assert {name for name, (own, other) in values.items() if own is other} <= {
        name for name, (own, _) in values.items() if isinstance(own, (str, int, frozenset))
    }


def test_an_exception_says_when_the_class_learnt_it(order: TeachingOrder) -> None:
    standing = choose_step(order, Wanted("18 except ow as in town"))
    verdict = Judge(standing.order, 18).judge("town")
    assert [(b.grapheme, b.taught_at, b.cause) for b in verdict.blockers] == [("ow", 18, EXCEPTED)]


@pytest.mark.parametrize("expression", ["14 also ee", "14 except igh", "14 also tricky said", "14 except tricky laugh"])
def test_a_clause_that_changes_nothing_is_noted(order: TeachingOrder, expression: str) -> None:
    standing = choose_step(order, Wanted(expression))
    assert len(standing.notes) == 1 and standing.notes[0].note


def test_lag_may_be_said_once(order: TeachingOrder) -> None:
    assert choose_step(order, Wanted("14 also igh lag 2")).step == 12
    with pytest.raises(UserError) as caught:
        choose_step(order, Wanted("14 lag 1 also igh lag 2"))
    (problem,) = caught.value.problems
    assert "`lag`" in problem.what and problem.column == len("14 lag 1 also igh lag ") + 1


ITEMS = ("ee", "igh", "ow as in town", "ow as in grow", "-ed", "-s", "sh", "a-e", "structure CVCC", "together nk", "ff")


@settings(max_examples=60, deadline=None)
@given(st.integers(3, 27), st.integers(0, 2), st.lists(st.sampled_from(ITEMS), max_size=3, unique=True))
def test_also_only_adds_and_except_only_takes_away(step: int, lag: int, items: list[str]) -> None:
    order = load(str(HARBOUR))

    def readable(expression: str) -> set[int]:
        standing = choose_step(order, Wanted(expression))
        senses = standing.order.readiness.senses
        return set((senses <= standing.step).nonzero()[0].tolist())

    plain = readable(f"{step - lag}")
    assert readable(f"{step} lag {lag}") == plain
    # adding an ending that gates, or a double, may not take away what was readable: each is mentioned in the demo already
    assert readable(f"{step} lag {lag}" + "".join(f" also {i}" for i in items)) >= plain
    assert readable(f"{step} lag {lag}" + "".join(f" except {i}" for i in items)) <= plain


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="14 alsoexcptgingh,-;'\"tricky", max_size=30))
def test_any_text_is_a_step_or_one_clear_message(text: str) -> None:
    order = load(str(HARBOUR))
    try:
        choose_step(order, Wanted(text))
    except UserError as error:
        for problem in error.problems:
            assert problem.what and problem.todo
            assert 1 <= problem.column <= max(1, len(text))


def test_groups_of_a_configuration(tmp_path: Path) -> None:
    (tmp_path / "school.progression").write_text(HARBOUR.read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "decodecheck.toml").write_text(
        'progression = "school.progression"\nstep = 9\n[groups]\nLimpets = "14 also igh as in light"\nTerns = 12\n'
        '[[texts]]\nfiles = "puffins/*.txt"\ngroup = "Limpets"\n',
        encoding="utf-8",
    )
    (tmp_path / "puffins").mkdir()
    text, other = tmp_path / "puffins" / "tin.txt", tmp_path / "tin.txt"
    for path in (text, other):
        path.write_text("Tilda had a light.", encoding="utf-8")
    assert Session().check(str(text)).step == 14
    assert Session().check(str(text)).errors == 0
    assert Session().check(str(other)).step == 9
    assert Session(group="Terns").check(str(text)).step == 12
    assert Session(group="Limpets").check(str(other)).errors == 0


def test_the_class_keeps_its_tricky_words_as_they_are() -> None:
    order, problems = resolve("step 1\n  teach p, e, n\n  tricky the\n", "x")
    assert not problems
    before = (dict(order.tricky), dict(order.tricky_places), dict(order.tricky_spelling))
    standing = choose_step(order, Wanted("1 also tricky colonel, I'm"))
    assert (order.tricky, order.tricky_places, order.tricky_spelling) == before
    assert standing.order.tricky_spelling["i'm"] == "I'm" and "colonel" in standing.order.tricky


@pytest.mark.parametrize(
    ("text", "what", "todo"),
    [
        ("1 also e tricky because", "`tricky` needs an `also` of its own.", "Write `also tricky because`."),
        ("1 except p structure CVC", "`structure` needs an `except` of its own.", "Write `except structure CVC`."),
        ("1 lag 1 lag 1", "`lag` is said twice.", "Write one number of steps."),
    ],
)
def test_what_needs_a_clause_of_its_own(text: str, what: str, todo: str) -> None:
    order, _ = resolve("step 1\n  teach p, e, n\nstep 2\n", "x")
    with pytest.raises(UserError) as caught:
        choose_step(order, Wanted(text.replace("1 lag", "2 lag")))
    (problem,) = caught.value.problems
    assert (problem.what, problem.todo) == (what, todo)
