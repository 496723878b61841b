"""Every report for programs has a published schema (JSON Schema 2020-12) that what is printed follows, and that the guide names."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click
import jsonschema
import pytest

from decodecheck import reports
from decodecheck.cli.main import decodecheck, run
from decodecheck.lexicon.store import ORIGINS
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.wordlists.left_out import KINDS
from decodecheck.wordlists.sound_sequences import ADDED, CHANGED, DROPPED
from decodecheck.wordlists.wanted import ORDERS

from ..insight.demo import DEMO

REPORTS = Path(reports.__file__).parent
P = ("--progression", "corpora_demo/harbour-lane.progression")
TEXTS, BAKE = "corpora_demo/texts", "corpora_demo/texts/step-22/bake-day.txt"
PLAN = "corpora_demo/wordlists/step-20-words.txt"
RUNS: dict[tuple[str, str], tuple[str, list[tuple[str, ...]]]] = {
    ("catalogue", "json"): ("catalogue-1", [(TEXTS,), ("corpora_demo",)]),
    ("chain", "json"): (
        "chain-1",
        [
            (*P, "sit", "shop"),
            (*P, "seem", "team"),
            (*P, "hat", "--length", "8", "--seed", "3"),
            (*P, "read", "--length", "3", "--heteronyms"),
        ],
    ),
    ("check", "json"): ("check/check-1", [(TEXTS, "--every-word"), ("corpora_demo/wordlists",), ("nothing.txt",)]),
    ("check", "jsonl"): ("check/check-lines-1", [(TEXTS, "--every-word"), ("corpora_demo/wordlists",), ("nothing.txt",)]),
    ("config", "json"): ("config-1", [(BAKE, PLAN)]),
    ("coverage", "json"): ("coverage-1", [(TEXTS,)]),
    ("explain", "jsonl"): (
        "explain-lines-1",
        [
            ("cake", "one", "don't", "Sooo", "I", "zxq", "12", "read", "ow-ow", "grobble", "sea-shell"),
            (*P, "cake", "record", "zxq", "Nettle", "yacht"),
        ],
    ),
    ("fit", "json"): ("fit-1", [(TEXTS,), (BAKE, *P, "--step", "12"), (PLAN, *P, "--step", "9")]),
    ("progression compare", "json"): (
        "comparison-1",
        [
            (P[1], "corpora_demo/next-year.progression"),
            (P[1], "corpora_demo/next-year.progression", "--texts", TEXTS),
        ],
    ),
    ("pseudowords", "json"): (
        "pseudowords-1",
        [(*P, "--step", "20", "--number", "5"), ("--sections", "both", "--number", "12", "--accent", "all")],
    ),
    ("replace", "json"): ("replace-1", [(TEXTS,)]),
    ("sheet", "json"): ("sheet-1", [(PLAN, *P, "--step", "12"), (PLAN, *P, "--step", "27", "--title", "Week 3")]),
    ("words", "json"): (
        "words-1",
        [
            (*P, "--step", "20", "--with", "ow as in town", "--all"),
            (*P, "--step", "27", "--all", "--also", "names", "--also", "heteronyms", "--also", "unsure", "--order", "alphabet"),
        ],
    ),
}  # fmt: skip


def commands(group: click.Command, name: str = "") -> Iterator[tuple[str, click.Command]]:
    """Every command with its name, those of groups with that of the group before it."""
    if isinstance(group, click.Group):
        context = click.Context(group)
        for part in group.list_commands(context):
            inner = group.get_command(context, part)
            assert inner is not None
            yield from commands(inner, f"{name} {part}".strip())
    else:
        yield name, group


def test_every_report_for_programs_is_here() -> None:
    found = {
        (name, choice)
        for name, command in commands(decodecheck)
        for option in command.params
        if "--format" in option.opts and isinstance(option.type, click.Choice)
        for choice in option.type.choices
        if choice in ("json", "jsonl")
    }
    assert found == RUNS.keys()
    assert {f"{schema}.schema.json" for schema, _ in RUNS.values()} == {
        path.relative_to(REPORTS).as_posix() for path in REPORTS.rglob("*.schema.json")
    }


@pytest.mark.parametrize(
    ("command", "form", "schema", "arguments"),
    [(*key, schema, arguments) for key, (schema, runs) in RUNS.items() for arguments in runs],
)
def test_what_is_printed_follows_its_schema(
    command: str,
    form: str,
    schema: str,
    arguments: tuple[str, ...],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(DEMO.parent)
    code = run([*command.split(), *arguments, "--format", form])
    assert code == (2 if "nothing.txt" in arguments else code) and code in (0, 1, 2)
    out = capsys.readouterr().out
    told = [json.loads(line) for line in (out.splitlines() if form == "jsonl" else [out])]
    assert told
    validator = jsonschema.Draft202012Validator(read(schema))
    for value in told:
        validator.validate(value)


def read(schema: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((REPORTS / f"{schema}.schema.json").read_text(encoding="utf-8"))
    return found


def objects(schema: object) -> Iterator[dict[str, Any]]:
    """Every schema of an object with named members within a schema."""
    if isinstance(schema, dict):
        if "properties" in schema and "type" in schema:
            yield schema
        for inner in schema.values():
            yield from objects(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from objects(inner)


@pytest.mark.parametrize("schema", sorted({schema for schema, _ in RUNS.values()}))
def test_a_schema_leaves_nothing_open(schema: str) -> None:
    whole = read(schema)
    jsonschema.Draft202012Validator.check_schema(whole)
    for found in objects(whole):
        closed = found.get("additionalProperties", found.get("unevaluatedProperties"))
        assert closed is False or isinstance(closed, dict), found


def test_the_guide_names_them() -> None:
    guide = DEMO.parent / "rules" / "GUIDE.md"
    text = guide.read_text(encoding="utf-8")
    assert [schema for schema, _ in RUNS.values() if f"{schema.split('/')[-1]}.schema.json" not in text] == []


def test_lists_of_names_are_the_programs_own() -> None:
    words, explain, chain = read("words-1"), read("explain-lines-1"), read("chain-1")
    assert words["properties"]["accent"]["enum"] == list(ACCENTS)
    assert words["properties"]["order"]["enum"] == list(ORDERS)
    assert words["properties"]["left_out"]["propertyNames"]["enum"] == list(KINDS)
    assert words["$defs"]["word"]["properties"]["kind"]["enum"] == [*KINDS, None]
    assert explain["properties"]["origin"]["enum"] == [*ORIGINS, None]
    assert read("sheet-1")["$defs"]["origin"]["enum"] == list(ORIGINS)
    assert set(chain["$defs"]["change"]["properties"]["kind"]["enum"]) == {CHANGED, ADDED, DROPPED}
