"""The language: grammar and dataclasses one to one, parse-print-parse the identity."""

import dataclasses
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.progression import mistake_examples, parse, printer, syntax
from decodecheck.progression.statements import KIND_OF
from decodecheck.resources import PACKAGE, rules_folder

GRAMMAR = (PACKAGE / "progression" / "language.lark").read_text(encoding="utf-8")


def camel(rule: str) -> str:
    return "".join(part.capitalize() for part in rule.split("_"))


def test_every_rule_has_its_dataclass_and_builder() -> None:
    rules = {m[1] for m in re.finditer(r"^([a-z_]+)\s*:", GRAMMAR, re.MULTILINE)} - {"start"}
    classes = {
        name
        for name, value in vars(syntax).items()
        if dataclasses.is_dataclass(value) and name not in ("Text", "Line", "Source")
    }
    assert {camel(r) for r in rules} - {"Name"} == classes
    for rule in rules:
        assert callable(getattr(parse._Builder, rule)), rule


@pytest.mark.parametrize(
    "line", sorted({line for lines in mistake_examples.EXAMPLES.values() for line in lines}), ids=lambda line: line
)
def test_every_example_of_a_mistake_is_one_with_its_message(line: str) -> None:
    source, problems = parse.parse(line, "x.progression")
    assert source.lines[0].statement is None
    (problem,) = problems
    assert problem.line == 1 and 1 <= problem.column <= max(1, len(line)) and problem.todo
    wanted = next(key for key, lines in mistake_examples.EXAMPLES.items() if line in lines)
    assert problem.what == wanted[0]
    assert problem.todo == wanted[1] or not wanted[1]


NAMES = st.from_regex(r"[a-z]{1,4}(-e)?|-[a-z]{1,3}|[A-Z]|'s|n't", fullmatch=True).filter(
    lambda s: s not in ("as", "and")
)
WORDS = st.from_regex(r"[A-Za-z]{1,8}('[a-z]{1,2})?", fullmatch=True).filter(
    lambda s: s.lower() not in ("as", "and", "at", "in", "end", "start")
)
TITLES = st.text(
    alphabet=st.characters(codec="utf-8", exclude_characters='"\n\r\\#', exclude_categories=("C", "Z")),
    min_size=1,
    max_size=12,
)
TEXT = st.builds(syntax.Text, WORDS)
ITEM = st.builds(
    syntax.Item, st.builds(syntax.Text, NAMES), st.lists(TEXT, max_size=3).map(tuple), st.just("")
) | st.builds(
    syntax.Item, st.builds(syntax.Text, NAMES), st.lists(TEXT, max_size=2).map(tuple), st.sampled_from(["start", "end"])
)
SHAPE = st.builds(syntax.Shape, st.from_regex(r"[CV]{1,6}", fullmatch=True).map(syntax.Text)) | st.builds(
    syntax.Shape, st.integers(1, 9).map(lambda n: syntax.Text(str(n))), st.just(True)
)
NUMBER = st.integers(1, 9999).map(lambda n: syntax.Text(str(n)))
IPA = st.text(alphabet="iːeɪæʊəvθ", min_size=1, max_size=4)


def several(strategy: st.SearchStrategy[object]) -> st.SearchStrategy[tuple[object, ...]]:
    return st.lists(strategy, min_size=1, max_size=5).map(tuple)


DRAWN: dict[type[syntax.Statement], st.SearchStrategy[syntax.Statement]] = {
    syntax.Progression: st.builds(syntax.Progression, TITLES.map(syntax.Text)),
    syntax.Accent: st.builds(syntax.Accent, st.sampled_from(["scottish", "southern-british"]).map(syntax.Text)),
    syntax.Include: st.builds(syntax.Include, TITLES.map(syntax.Text)),
    syntax.Step: st.builds(syntax.Step, NUMBER, st.none() | TITLES.map(syntax.Text)),
    syntax.Teach: st.builds(syntax.Teach, several(ITEM)),
    syntax.Together: st.builds(syntax.Together, several(TEXT)),
    syntax.Structure: st.builds(syntax.Structure, several(SHAPE)),
    syntax.Tricky: st.builds(syntax.Tricky, several(TEXT)),
    syntax.Capitals: st.builds(syntax.Capitals, NUMBER),
    syntax.Doubled: st.builds(syntax.Doubled, NUMBER),
    syntax.AllowNames: st.builds(
        syntax.AllowNames, several(st.lists(WORDS, min_size=1, max_size=2).map(lambda w: syntax.Text(" ".join(w))))
    ),
    syntax.AllowSounds: st.builds(syntax.AllowSounds, several(TEXT)),
    syntax.SkipNames: st.just(syntax.SkipNames()),
    syntax.Weakened: st.just(syntax.Weakened()),
    syntax.Word: st.builds(
        syntax.Word,
        TEXT,
        several(st.builds(syntax.Part, st.builds(syntax.Text, NAMES), st.none() | IPA.map(syntax.Text))),
    ),
}
STATEMENTS = st.one_of(*DRAWN.values())


def test_every_statement_is_drawn() -> None:
    assert DRAWN.keys() == KIND_OF.keys()


@settings(max_examples=300, deadline=None)
@given(STATEMENTS)
def test_parse_print_parse_is_the_identity(statement: syntax.Statement) -> None:
    printed = printer.print_statement(statement)
    again = parse.parse_statement(printed)
    assert again == statement
    assert printer.print_statement(again) == printed


COMMENTED = st.lists(st.tuples(st.none() | STATEMENTS, st.sampled_from(["", "why", "a # sign"])), max_size=12)


@settings(max_examples=100, deadline=None)
@given(COMMENTED)
def test_whole_files_keep_statements_and_comments(lines: list[tuple[syntax.Statement | None, str]]) -> None:
    source = syntax.Source("x", tuple(syntax.Line(n, s, c) for n, (s, c) in enumerate(lines, 1)))
    text = printer.print_source(source)
    again, problems = parse.parse(text, "x")
    assert not problems
    kept = [line for line in source.lines if line.statement or line.comment]
    assert [line for line in again.lines if line.statement or line.comment] == kept
    assert printer.print_source(again) == text


@pytest.mark.parametrize(
    "path",
    [*rules_folder().glob("progressions/*"), PACKAGE.parent / "corpora_demo" / "harbour-lane.progression"],
    ids=lambda p: p.name,
)
def test_shipped_files_are_in_canonical_form(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    source, problems = parse.parse(text, path.name)
    assert not problems
    assert printer.print_source(source) == text


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60))
def test_any_text_gives_statements_or_problems_with_a_place(text: str) -> None:
    _, problems = parse.parse(text, "x")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for problem in problems:
        assert 1 <= problem.line <= len(lines)
        assert 1 <= problem.column <= max(1, len(lines[problem.line - 1]))
        assert problem.text()
