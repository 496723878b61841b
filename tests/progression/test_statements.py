"""The table of statements: one entry for each, and none that does nothing."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import fields
from pathlib import Path
from typing import get_args

import pytest

from decodecheck.checking.check import Checker
from decodecheck.insight.brief import brief
from decodecheck.insight.compare import compare
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import ALLOWED
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.progression import syntax
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.parse import parse, parse_statement
from decodecheck.progression.printer import print_source, print_statement
from decodecheck.progression.resolve import resolve
from decodecheck.progression.settings import Words
from decodecheck.progression.statements import KINDS, Kind, Place
from decodecheck.reports import brief as brief_report
from decodecheck.reports import comparison
from decodecheck.reports.page import Entry
from decodecheck.resources import PACKAGE, rules_folder
from decodecheck.source import SourceText

GRAMMAR = (PACKAGE / "progression" / "language.lark").read_text(encoding="utf-8")
each = pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.opening)
outside = pytest.mark.parametrize("kind", [k for k in KINDS if k.setting], ids=lambda kind: kind.opening)
PROBES = [
    "bath", "egg", "ink", "lemon", "picture", "stop", "rabbit", "Dan", "school", "kit", "no", "pat", "snow", "cake", "mapping",
    "said", "Omar",
]  # fmt: skip
"""Words of which each shows what some statement does."""
CHANGED: dict[type[syntax.Statement], str] = {
    syntax.Accent: "accent scottish",
    syntax.Word: "word Niamh = n + i + a + m + h",
}
"""Statements whose example says what holds in this school anyway, with another line of their kind."""


def line_of(kind: Kind) -> str:
    return CHANGED.get(kind.statement, kind.example)


def school(kind: Kind | None = None) -> str:
    """A progression; with a statement of a kind at a place where it may stand."""
    line = line_of(kind) if kind else ""
    given = {place: line if kind and kind.place is place else "" for place in Place}
    return (
        f"{given[Place.OUTSIDE]}\nstep 1\n  teach a, b, d, e, g, h, i, l, m, n, o, r, s, t, th\n{given[Place.HEAD]}\n"
        f"  teach k\nstep 4\n  teach c\nstep 6\n  teach f\n{given[Place.INSIDE]}\n"
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the file that the example of `include` names."""
    folder = tmp_path_factory.mktemp("school")
    (folder / "autumn.progression").write_text("step 2\n  tricky school\n", encoding="utf-8")
    return folder


def order_of(kind: Kind | None, folder: Path) -> TeachingOrder:
    order, problems = resolve(school(kind), str(folder / "school.progression"))
    assert not problems, [p.text() for p in problems]
    return order


def forms_of(kind: Kind) -> list[str]:
    return [*PROBES, *re.findall(r"[A-Za-z]+", line_of(kind))]


def resolved(order: TeachingOrder) -> dict[str, object]:
    """Everything that an order says, without the lines that it is said in."""
    found = {f.name: getattr(order, f.name) for f in fields(order) if f.name not in ("sources", "_unit_step")}
    found["steps"] = [(s.number, s.title) for s in order.steps]
    found["mentions"] = [(m.step, m.label, m.kind, m.keys) for m in order.mentions]
    found["tricky_places"] = list(order.tricky_places)
    return found


def statuses(order: TeachingOrder, forms: list[str]) -> list[dict[str, str]]:
    """What a check says of forms at each of the steps 1 to 6; each stands inside a sentence."""
    source = SourceText("x.txt", "".join(f"He sat at the {form} and sat.\n" for form in forms))
    reports = [Checker(Judge(order, step)).check(source) for step in range(1, 7)]
    return [{word: found.status for word, found in report.distinct.items()} for report in reports]


def test_every_statement_has_one_entry() -> None:
    assert Counter(kind.statement for kind in KINDS) == Counter(get_args(syntax.Statement))
    start = re.search(r"^\?start:([^/]*?)\n\n", GRAMMAR, re.MULTILINE)
    assert start
    rules = re.findall(r"[a-z_]+", start[1])
    assert sorted(kind.statement.__name__ for kind in KINDS) == sorted(r.title().replace("_", "") for r in rules)
    assert len({kind.opening for kind in KINDS}) == len(KINDS)


@each
def test_the_example_is_one_and_is_printed_as_it_is_written(kind: Kind) -> None:
    statement = parse_statement(kind.example)
    assert isinstance(statement, kind.statement)
    assert print_statement(statement) == kind.example
    assert kind.example.startswith(kind.opening)


@each
def test_its_place_is_that_of_its_class(kind: Kind) -> None:
    inside, head = kind.statement in get_args(syntax.Lesson), kind.statement is syntax.Step
    assert kind.place is (Place.INSIDE if inside else Place.HEAD if head else Place.OUTSIDE)
    printed = print_source(parse(f"step 1\n{kind.example}\n", "x")[0]).splitlines()[1]
    assert printed == ("  " if inside else "") + kind.example


def test_all_that_stands_outside_steps_is_a_setting() -> None:
    outside = {*get_args(syntax.Single), *get_args(syntax.Repeated)} - {syntax.Progression}
    assert {kind.statement for kind in KINDS if kind.setting} == outside


@each
def test_it_changes_what_is_resolved(kind: Kind, folder: Path) -> None:
    assert resolved(order_of(kind, folder)) != resolved(order_of(None, folder))


@each
def test_it_changes_a_verdict(kind: Kind, folder: Path) -> None:
    forms = forms_of(kind)
    changed = statuses(order_of(kind, folder), forms) != statuses(order_of(None, folder), forms)
    # a title is what a progression is called, and nothing else
    assert changed == (kind.statement is not syntax.Progression)


@each
def test_a_comparison_names_it(kind: Kind, folder: Path) -> None:
    found = compare(order_of(None, folder), order_of(kind, folder))
    if kind.setting:
        assert found.settings and all(line.startswith(kind.setting.label) for line in found.settings)
        assert found.settings != compare(order_of(kind, folder), order_of(None, folder)).settings
    else:
        assert not found.settings
        same = compare(order_of(None, folder), order_of(None, folder))
        told = comparison.page(found, None, 0).blocks != comparison.page(same, None, 0).blocks
        # what a progression is called stands above the page
        assert told == (kind.statement is not syntax.Progression)


@outside
def test_a_brief_has_its_rule(kind: Kind, folder: Path) -> None:
    def entries(order: TeachingOrder) -> set[tuple[str, str]]:
        return {
            (b.label, b.text) for b in brief_report.page(brief(order, 1)).blocks if isinstance(b, Entry)
        }  # fmt: skip

    assert kind.setting
    order = order_of(kind, folder)
    rule = kind.setting.rule
    if rule:
        assert (rule.label, rule.text(order, 1)) in entries(order) - entries(order_of(None, folder))
        assert not rule.text(order_of(None, folder), 1)


@each
def test_the_short_way_to_a_status_heeds_it(kind: Kind, folder: Path) -> None:
    order = order_of(kind, folder)
    forms = [f for form in forms_of(kind) for f in (form, form.lower(), form.capitalize(), form.upper())]
    for step in (1, 4, 6):
        short, long = Judge(order, step), Judge(order, step)
        assert {f: short.status(f)[0] for f in forms} == {f: long.judge(f).status for f in forms}


@each
def test_a_form_that_goes_by_its_items_has_the_step_of_its_word(kind: Kind, folder: Path) -> None:
    order = order_of(kind, folder)
    readiness, lexicon = order.readiness, order.lexicon
    tried = 0
    for word in [*forms_of(kind), "sad", "keen"]:
        number = lexicon.tables.number(word.lower())
        if number < 0 or number in readiness.touched or not order.goes_by_items(word.lower()):
            continue
        sense = lexicon.word_sense[number]
        if lexicon.word_sense[number + 1] == sense + 1:
            tried += 1
            assert Judge(order, 1).judge(word.lower()).first_step == readiness.senses[sense], word
    assert tried or kind.statement is syntax.Word  # a pinned reading may be that of a part of any word


@outside
def test_what_is_allowed_is_what_the_judge_allows(kind: Kind, folder: Path) -> None:
    order = order_of(kind, folder)
    judge = Judge(order, 1)
    forms = [
        f for form in forms_of(kind) for f in (form, form.lower(), form.upper(), f"{form}'s", f"{form}’", f"{form}rrr")
    ]
    allowed = {f for f in forms if order.allows(f, plain_spelling(f).plain)}
    assert allowed == {f for f in forms if judge.judge(f).status == ALLOWED}
    assert not any(order.goes_by_items(f.lower()) for f in allowed if f.isascii() and f.isalpha())
    assert bool(allowed) == (isinstance(kind.setting, Words) and kind.statement is not syntax.Word)


@each
def test_two_on_one_line_are_told(kind: Kind) -> None:
    (problem,) = parse(f"tricky was {kind.example}\n", "x")[1]
    assert re.fullmatch(r"`(.+)` opens a statement of its own\.", problem.what), problem.what
    assert kind.opening.startswith(problem.what.split("`")[1])


@each
def test_a_colon_after_what_opens_it_is_told(kind: Kind) -> None:
    (problem,) = parse(f"{kind.opening}: x\n", "x")[1]
    assert problem.what == f"decodecheck does not know a line that starts with `{kind.opening}:`."
    assert f"`{kind.opening}`" in problem.todo and kind.example in problem.todo


def test_a_keyword_of_several_statements_names_what_may_follow() -> None:
    keywords = Counter(kind.keyword for kind in KINDS)
    shared = [kind for kind in KINDS if keywords[kind.keyword] > 1]
    assert shared
    for kind in shared:
        (problem,) = parse(f"{kind.keyword} Nettle\n", "x")[1]
        assert problem.what.startswith(f"`{kind.keyword}` is followed by `")
        assert f"`{kind.opening.removeprefix(kind.keyword).strip()}`" in problem.what


def test_the_guide_to_switches_has_each() -> None:
    guide = (rules_folder() / "SWITCHES.md").read_text(encoding="utf-8")
    told = {kind.opening for kind in KINDS if kind.setting}
    assert [opening for opening in sorted(told) if f"`{opening}" not in guide] == []
