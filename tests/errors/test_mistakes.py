"""A mistake of form has one message, wherever in a line it stands: in the first item, the second or the fourth."""

from __future__ import annotations

import pytest

from decodecheck.progression.mistake_examples import EXAMPLES
from decodecheck.progression.parse import parse
from decodecheck.progression.statements import KINDS

LISTS = {
    "teach": ("p, ", "p, e, n, ", "ow as in town, ", "o as in go, at word end; "),
    "tricky": ("said, ", "said, was, Mr, "),
    "together": ("ture, ", "ture, tion, sion, "),
    "structure": ("CVCC, ", "CVCC, CCVC, 2 syllables, "),
    "allow names": ("Mr Pike, ", "Tilda, Omar, Mr Pike, "),
    "allow sounds": ("moo, ", "moo, baa, hee-haw, "),
}
"""Statements that list items, with items that are right."""


def test_every_statement_that_lists_items_is_tried() -> None:
    assert set(LISTS) == {kind.opening for kind in KINDS if kind.lists}


def message(line: str) -> str:
    problems = parse(line + "\n", "school.progression")[1]
    return problems[0].what if problems else ""


# The source: the table of mistakes, which says of each of its lines what is wrong with it.
@pytest.mark.parametrize(("what", "lines"), [(key[0], lines) for key, lines in EXAMPLES.items()])
def test_each_example_has_its_own_message(what: str, lines: list[str]) -> None:
    assert {line: message(line) for line in lines} == dict.fromkeys(lines, what)


# The source: the same table. What is wrong with `teach a b` is wrong with `teach p, a b`.
@pytest.mark.parametrize(("what", "lines"), [(key[0], lines) for key, lines in EXAMPLES.items()])
def test_a_mistake_in_a_later_item_has_the_message_of_one_in_the_first(what: str, lines: list[str]) -> None:
    wanted: dict[str, str] = {}
    for line in lines:
        for statement, right in LISTS.items():
            rest = line.removeprefix(statement).strip()
            if line.startswith(statement) and rest:
                wanted |= {f"{statement} {items}{rest}": what for items in right}
    assert {line: message(line) for line in wanted} == wanted
