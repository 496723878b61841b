"""Many mistakes, long rows of steps and deep includes: one message for one mistake, and an end to all of them."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decodecheck.errors import UserError
from decodecheck.progression.many import MOST
from decodecheck.progression.resolve import DEEPEST, load, resolve, resolve_file
from decodecheck.progression.step_numbers import out_of_order
from decodecheck.progression.swapped import nearest_name


def steps(*numbers: int) -> list[str]:
    _, problems = resolve("".join(f"step {n}\n" for n in numbers) + "  teach p\n", "x")
    return [p.what for p in problems]


# The source: what a reader of such a row says is wrong with it.
@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ((1, 2, 3), []),
        ((1, 2, 8, 91, 10, 11, 12, 13), ["Step 91 stands between steps 8 and 10."]),
        ((91, 2, 3, 4), ["Step 91 stands before step 2."]),
        ((1, 2, 2, 3), ["Step 2 is declared twice."]),
        ((1, 3, 2), ["Step 2 comes after a later one."]),
        ((1, 2, 3, 1, 4), ["Step 1 comes after a later one."]),
        ((5, 6, 7, 1, 8, 9), ["Step 1 comes after a later one."]),
    ],
)
def test_one_wrong_number_is_one_mistake(numbers: tuple[int, ...], said: list[str]) -> None:
    assert steps(*numbers) == said


def test_the_number_that_is_meant_is_asked_for() -> None:
    _, problems = resolve("step 8\nstep 91\nstep 10\nstep 11\n", "x")
    assert [p.todo for p in problems] == ["Is 9 meant? Number steps upwards."]


@given(st.lists(st.integers(1, 30), max_size=25))
def test_what_is_left_rises_and_no_less_could_be_taken_out(numbers: list[int]) -> None:
    odd = {o.at for o in out_of_order(numbers)}
    left = [n for at, n in enumerate(numbers) if at not in odd]
    assert all(a < b for a, b in itertools.pairwise(left))
    # the source: the length of a longest increasing subsequence, by its textbook recurrence
    lengths: list[int] = []
    for at, n in enumerate(numbers):
        lengths.append(1 + max((lengths[i] for i in range(at) if numbers[i] < n), default=0))
    assert len(left) == max(lengths, default=0)


def test_of_very_many_mistakes_the_first_are_told(tmp_path: Path) -> None:
    path = tmp_path / "a.progression"
    path.write_text("step 1\n" + "  teech p\n" * 5000, encoding="utf-8")
    with pytest.raises(UserError) as caught:
        load(str(path))
    problems = caught.value.problems
    assert len(problems) == MOST + 1
    assert problems[-1].what == f"{5000 - MOST:,} more mistakes are not shown."
    assert all("Did you mean `teach`" in p.todo for p in problems[:-1])


def test_includes_that_lie_too_deep_have_a_message(tmp_path: Path) -> None:
    for n in range(1500):
        (tmp_path / f"{n}.progression").write_text(f'include "{n + 1}.progression"\n', encoding="utf-8")
    _, problems = resolve_file(str(tmp_path / "0.progression"))
    assert [p.what for p in problems] == [f"More than {DEEPEST} files include each other in a row."]


def test_an_include_that_is_no_path(tmp_path: Path) -> None:
    (tmp_path / "a.progression").write_text('include "b\0.progression"\nstep 1\n  teach p\n', encoding="utf-8")
    text = (tmp_path / "a.progression").read_text(encoding="utf-8")
    _, problems = resolve(text, str(tmp_path / "a.progression"))
    assert [p.what for p in problems] == ["The included file cannot be used: This is no path."]


# The source: the slip of the finger that swaps two letters is one of the four of Damerau (1964), from memory.
@pytest.mark.parametrize(("typed", "meant"), [("kc", "ck"), ("ihg", "igh"), ("gn", "ng"), ("hs", "sh")])
def test_letters_that_changed_places_come_first(typed: str, meant: str) -> None:
    assert nearest_name(typed, ["k", "c", "xc", "ck", "gh", "hi", "igh", "ng", "nk", "s", "h", "sh"])[0] == meant


def test_a_word_of_more_letters_than_any_is_no_tricky_word() -> None:
    _, problems = resolve("step 1\n  teach p\n  tricky " + "pa" * 150 + "\n", "x")
    (problem,) = problems
    assert problem.what.endswith("is too long for a word.") and len(problem.what) < 120


def test_a_pinned_sound_of_many_letters_is_refused() -> None:
    _, problems = resolve(f"step 1\n  teach p\nword pa = p + a /{'iː' * 500}/\n", "x")
    assert [p.what for p in problems] == ["That is more than one grapheme says."]


# The source: what a teacher who writes one statement after another means.
@pytest.mark.parametrize(
    ("line", "what", "column"),
    [
        ("teach a tricky the", "`tricky` opens a statement of its own.", 9),
        ("tricky the, teach a", "`teach` opens a statement of its own.", 13),
        ("step 3 teach n", "`teach` opens a statement of its own.", 8),
        ("capitals from step 3 teach t", "`teach` opens a statement of its own.", 22),
        ("teach a as in cat, step 4", "`step` opens a statement of its own.", 20),
        ("teach oo as in spoon and good p, e", "There is no comma between `good` and `p`.", 31),
        ("tricky the step", "Something stands between two words without a comma.", 12),
    ],
)
def test_a_second_statement_and_a_missing_comma_are_named(line: str, what: str, column: int) -> None:
    _, problems = resolve(f"step 1\n{line}\nteach p\n", "x")
    assert (problems[0].what, problems[0].column) == (what, column)


def test_curly_quotation_marks_are_read(tmp_path: Path) -> None:
    order, problems = resolve("progression “Harbour # Lane”\nstep 1 „autumn“  # first\n  teach p\n", "x")
    assert not problems and order.name == "Harbour # Lane"
