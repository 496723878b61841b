"""What the program makes of a mistake goes by its code: no logic reads the sentences that people read."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from decodecheck.errors import Problem, UserError
from decodecheck.progression.draft import Piece, Row, draft
from decodecheck.progression.resolve import resolve_file
from decodecheck.resources import PACKAGE

CASES = Path(__file__).parent / "cases"
SENTENCES = {"what", "todo"}
READS = {
    "startswith", "endswith", "removeprefix", "removesuffix", "find", "rfind", "index", "rindex", "count", "replace", "translate",
    "partition", "rpartition", "match", "fullmatch", "search", "sub", "subn", "findall", "finditer",
}  # fmt: skip
"""Methods, of texts and of patterns, that look into a text."""


def holds_a_sentence(node: ast.AST) -> bool:
    return any(
        (isinstance(n, ast.Attribute) and n.attr in SENTENCES) or (isinstance(n, ast.Name) and n.id in SENTENCES)
        for n in ast.walk(node)
    )


def read_in(code: str) -> list[int]:
    """The lines of a module in which a sentence is compared, searched or matched."""
    found = []
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.Compare):
            asked: list[ast.expr] = [node.left, *node.comparators]
        elif isinstance(node, ast.Match):
            asked = [node.subject]
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in READS:
            asked = [node.func.value, *node.args]
        elif isinstance(node, ast.Subscript):
            asked = [node.value]
        else:
            continue
        found += [node.lineno for part in asked if holds_a_sentence(part)]
    return found


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_no_module_reads_a_sentence(path: Path) -> None:
    assert read_in(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "code",
    [
        'if p.what == "There is no such file.": pass', '[p for p in problems if "is taught twice" not in p.what]',
        'todo.startswith("Write")', 're.sub(r"in line .*", "", problem.what)', 'PATTERN.match(p.todo)', "p.what[:5]",
        'match p.what:\n  case "x": pass', "p.what.lower() in known",
    ],
)  # fmt: skip
def test_what_counts_as_reading(code: str) -> None:
    assert read_in(code)


@pytest.mark.parametrize("path", sorted(CASES.rglob("*.progression")), ids=lambda p: f"{p.parent.name}/{p.name}")
def test_each_mistake_of_a_progression_has_a_code(path: Path) -> None:
    try:
        _, problems = resolve_file(str(path))
    except UserError:
        return  # no progression at all
    assert [p.what for p in problems if not re.fullmatch(r"[a-z]+(-[a-z]+)*", p.code)] == []


def mistakes(*rows: Row) -> list[Problem]:
    return draft(rows, "Harbour Lane", "southern-british")[1]


def row(step: str, items: str) -> Row:
    return Row(Piece(step, "cell A"), Piece(items, "cell B"))


def test_a_draft_names_no_line_of_its_own() -> None:
    again, unknown = mistakes(row("1", "a"), row("2", "a"), row("3", "sh as in zzqx"))
    assert (again.code, again.what) == ("taught-twice", "`a` is taught twice; first at step 1.")
    assert (unknown.code, unknown.todo) == ("not-in-lexicon", "Name the sound by a word that is.")
