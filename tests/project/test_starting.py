"""Lists and spreadsheets as people type them: headers in their own words, labels, titles."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from decodecheck.errors import UserError
from decodecheck.progression.resolve import resolve
from decodecheck.project.starting import start


def taught(text: str) -> dict[int, list[str]]:
    order, problems = resolve(text, "x")
    assert not [p for p in problems if not p.note]
    found: dict[int, list[str]] = {s.number: [] for s in order.steps}
    for m in order.mentions:
        found[m.step].append(m.label)
    for word, step in order.tricky.items():
        found[step].append(f"tricky {order.tricky_spelling[word]}")
    return found


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("p, t\na n\n", {1: ["p", "t"], 2: ["a", "n"]}),
        ("p\nt\n\na\n n\n", {1: ["p", "t"], 2: ["a", "n"]}),
        ("Week 1: p t\ntricky: the\nWeek 2: a, n\n", {1: ["p", "t", "tricky the"], 2: ["a", "n"]}),
        ("Autumn\np\nt\nSpring\na\n", {1: ["p", "t"], 2: ["a"]}),
        ("1. p, t\n2. a (apple), n\n", {1: ["p", "t"], 2: ["a as in apple", "n"]}),
        ("# ours\np, t  # first\n", {1: ["p", "t"]}),
    ],
)
def test_lists(tmp_path: Path, lines: str, expected: dict[int, list[str]]) -> None:
    path = tmp_path / "list.txt"
    path.write_text(lines, encoding="utf-8")
    assert taught(start(str(path), None, None).text) == expected


@pytest.mark.parametrize(
    "header",
    [
        ["Step", "Item", "Example word", "Tricky"],
        ["Week", "New sounds", "For example", "Tricky words"],
        ["Half term", "Graphemes taught", "Key word", "Exception words"],
        ["Unit", "GPCs", "Words", "High-frequency words"],
        ["lesson", "Letters and digraphs", "as in", "Irregular words"],
    ],
)
def test_headers_in_ones_own_words(tmp_path: Path, header: list[str]) -> None:
    path = tmp_path / "plan.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(
            [["Our plan"], [*header, "Notes"], ["1", "ow", "town", "said", "x"], ["", "sh", "", "", ""]]
        )
    started = start(str(path), "Harbour Lane", None)
    assert taught(started.text) == {1: ["ow as in town", "sh", "tricky said"]}
    assert "left out: 'Notes' (E2)" in started.understood
    assert 'progression "Harbour Lane"' in started.text


def test_a_column_that_nobody_recognises_is_not_dropped(tmp_path: Path) -> None:
    path = tmp_path / "plan.csv"
    path.write_text("Week,What we do,Tricky words\n1,sh,said\n", encoding="utf-8")
    with pytest.raises(UserError) as caught:
        start(str(path), None, None)
    assert "'What we do' (B1) is not recognised" in caught.value.problems[0].what


@pytest.mark.parametrize("name", ["england-national-curriculum", "us-common-core-foundational-skills"])
def test_a_shipped_one_keeps_its_source(name: str) -> None:
    text = start(name, 'The "new" order', None).text
    assert "# Source:" in text and "progression \"The 'new' order\"" in text
    assert taught(text)
