"""The catalogue of a folder: what is said of each file, read back, and held against what is there."""

from __future__ import annotations

import csv
import io
import json
import shutil
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import lxml.html
import pytest
from hypothesis import given
from hypothesis import strategies as st

import decodecheck
from decodecheck.catalogue import COLUMNS, Catalogue, Row, catalogue, differences
from decodecheck.checking.report import TextReport
from decodecheck.cli.main import run
from decodecheck.judging.verdict import TRICKY, UNJUDGED
from decodecheck.reports.catalogue import as_written, read_back, render
from decodecheck.session import Session

DEMO = Path(__file__).parents[1] / "corpora_demo"
SCHEMA = Path(decodecheck.__file__).parent / "reports" / "catalogue-1.schema.json"


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(DEMO, tmp_path / "demo")
    monkeypatch.chdir(tmp_path)
    return tmp_path / "demo"


def test_each_row_is_true() -> None:
    made = catalogue(Session(), str(DEMO))
    assert not made.failures
    files = [p for p in DEMO.rglob("*.*") if p.parent != DEMO and p.is_file()]
    assert [row.path for row in made.rows] == sorted(p.relative_to(DEMO).as_posix() for p in files)
    for row in made.rows:
        path = str(DEMO / row.path)
        report = Session().check(path)
        assert row.running_words == sum(number for status, number in report.counts.items() if status != UNJUDGED)
        assert row.step == report.step
        # source: the file checked by itself at each step in turn
        readable = [s.number for s in report.order.steps if can_be_read(path, str(s.number))]
        assert row.first_step == next(iter(readable), None)
        assert (row.held_back == 0) == can_be_read(path, str(row.step))
        assert len(row.held_back_by) == row.held_back <= 8
        if isinstance(report, TextReport):
            assert row.kind == "text"
            assert row.title == Path(path).read_text(encoding="utf-8").splitlines()[0]
            assert set(row.tricky_words) == {
                report.order.tricky_spelling.get(w, w) for w, found in report.distinct.items() if found.status == TRICKY
            }
            assert row.different_words == len(report.distinct)


@cache
def session_at(step: str) -> Session:
    return Session(str(DEMO / "harbour-lane.progression"), step)


def can_be_read(path: str, step: str) -> bool:
    at = session_at(step).check(path)
    return not (at.counts["blocked"] or at.counts["unsure"])


def test_targets() -> None:
    rows = {row.path: row for row in catalogue(Session(), str(DEMO)).rows}
    # source: the column of the list itself; `steps` of the demo's progression, read by hand
    with (DEMO / "wordlists" / "step-23-ow.csv").open(encoding="utf-8") as file:
        asked = [*dict.fromkeys(line["target"] for line in csv.DictReader(file))]
    assert [*rows["wordlists/step-23-ow.csv"].targets] == asked
    assert rows["texts/step-14/nettle-and-the-boat.txt"].targets == ("oa as in boat", "ee as in tree")
    # source: the letters of the text, counted
    text = (DEMO / "texts" / "step-14" / "nettle-and-the-boat.txt").read_text(encoding="utf-8").lower()
    assert Counter(text.count(letters) for letters in ("oa", "ee")) and text.count("oa") >= text.count("ee") > 0


def test_a_step_that_nobody_declared(tmp_path: Path) -> None:
    (tmp_path / "school.progression").write_text("step 1\n  teach a, t\nstep 2\n  teach n\n", encoding="utf-8")
    (tmp_path / "one.txt").write_text("An ant.\n", encoding="utf-8")
    (row,) = catalogue(Session(str(tmp_path / "school.progression")), str(tmp_path)).rows
    assert (row.step, row.first_step, row.targets) == (None, 2, ())
    (row,) = catalogue(Session(str(tmp_path / "school.progression"), "1"), str(tmp_path)).rows
    assert (row.step, row.first_step, row.held_back_by) == (1, 2, ("an", "ant"))
    (row,) = catalogue(Session(str(tmp_path / "school.progression"), "2 lag 1"), str(tmp_path)).rows
    assert (row.step, row.step_expression) == (1, "2 lag 1")


def test_it_is_the_same_wherever_it_is_made(
    demo: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    said = []
    for place, name in ((demo.parent, "demo"), (demo.parent, str(demo)), (demo, "."), (demo / "texts", "..")):
        monkeypatch.chdir(place)
        assert run(["catalogue", name, "--format", "csv"]) == 0
        said.append(capsys.readouterr().out)
    assert len(set(said)) == 1


def test_formats(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made = catalogue(Session(), "demo")
    assert run(["catalogue", "demo", "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(data)
    assert [record["path"] for record in data["resources"]] == [row.path for row in made.rows]
    page = lxml.html.document_fromstring(render(made, "html", "demo"))
    cells = [[cell.text_content() for cell in tr.iter("td", "th")] for tr in page.iter("tr")]
    assert [row[0] for row in cells[1:]] == [row.path for row in made.rows]
    assert [row[1] for row in cells[1:]] == [row.title or "(word list)" for row in made.rows]
    text = render(made, "text", "demo")
    assert (
        "texts/step-22/bake-day.txt: Bake Day\n  text of 149 words (82 different), for step 22; can be read at no step\n"
        in text
    )
    assert text.endswith("\n11 resources: 9 can be read at the step that they are for.\n")


words = st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=12)
rows = st.builds(
    Row, path=words, kind=st.sampled_from(["text", "word list"]), title=words | st.just(""), running_words=st.integers(0, 9999),
    different_words=st.integers(0, 9999), progression=words, step=st.none() | st.integers(0, 99), step_expression=st.just("") | words,
    first_step=st.none() | st.integers(0, 99), held_back=st.integers(0, 99),
    held_back_by=st.lists(words, max_size=8).map(tuple), targets=st.lists(words, max_size=3).map(tuple),
    tricky_words=st.lists(words, max_size=5).map(tuple),
)  # fmt: skip


@given(st.lists(rows, max_size=5, unique_by=lambda row: row.path), st.sampled_from(["csv", "json"]), st.booleans())
def test_what_is_written_is_read_back(some: list[Row], form: str, windows: bool) -> None:
    text = render(Catalogue(some), form, "demo")
    if form == "csv":
        head, *lines = csv.reader(io.StringIO(text, newline=""))
        assert tuple(head) == COLUMNS and [line[0] for line in lines] == [row.path for row in some]
    back = read_back(text.replace("\n", "\r\n") if windows else text, form, "x")
    assert back == as_written(some, form)
    assert form == "csv" or back == some
    assert not [*differences(back, as_written(some, form))]


@given(rows, st.sampled_from(COLUMNS), st.data())
def test_every_difference_is_told(row: Row, name: str, data: st.DataObject) -> None:
    other: Any = getattr(data.draw(rows), name)
    changed = replace(row, **{name: other})
    told = [*differences([row], [changed])]
    if other == getattr(row, name):
        assert not told
    elif name == "path":
        assert {line.rpartition(": ")[2] for line in told} == {"is no longer there", "is not in it"}
    else:
        assert len(told) == 1 and told[0].startswith(f"{row.path}: {name.replace('_', ' ')} ")


def test_the_demo_is_checked(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("kept.csv", "demo/kept.json", "demo/kept.csv"):
        assert run(["catalogue", "demo", "-o", name]) == 0
        capsys.readouterr()
        assert run(["catalogue", "demo", "--check", name]) == 0
        assert capsys.readouterr().out == f"{name}: 11 rows, nothing differs.\n"
        # as git on Windows would have it
        Path(name).write_bytes(Path(name).read_bytes().replace(b"\n", b"\r\n"))
        assert run(["catalogue", "demo", "--check", name]) == 0
        capsys.readouterr()
    text = demo / "texts" / "step-12" / "the-wet-map.txt"
    text.write_text(text.read_text(encoding="utf-8").replace("The Wet Map", "The Loud Map"), encoding="utf-8")
    (demo / "texts" / "step-20" / "a-ticket-for-nettle.txt").unlink()
    (demo / "texts" / "step-20" / "new.txt").write_text("Nettle sat.\n", encoding="utf-8")
    assert run(["catalogue", "demo", "--check", "kept.csv"]) == 1
    wet, ticket, new, last = capsys.readouterr().out.splitlines()
    assert wet.startswith("texts/step-12/the-wet-map.txt: title The Wet Map -> The Loud Map; ")
    assert "held back 0 -> 1" in wet and "held back by none -> loud" in wet
    assert ticket == "texts/step-20/a-ticket-for-nettle.txt: is no longer there"
    assert new == "texts/step-20/new.txt: is not in it"
    assert last == "kept.csv: 3 rows differ from what is there. Write it anew with --output."
    # what was catalogued is no list of words to be checked
    assert run(["check", "demo", "--quiet"]) == 1
    assert "kept" not in capsys.readouterr().out


def test_what_cannot_be_checked(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["catalogue", "demo", "-o", "kept.json"]) == 0
    before = Path("kept.json").read_bytes()
    (demo / "texts" / "step-12" / "bad.txt").write_bytes(b"caf\xe9 map")
    capsys.readouterr()
    assert run(["catalogue", "demo", "-o", "kept.json"]) == 2
    assert "kept.json: not written, since something could not be checked." in capsys.readouterr().err
    assert Path("kept.json").read_bytes() == before
    assert run(["catalogue", "demo", "--check", "kept.json"]) == 2
    said = capsys.readouterr()
    assert "bad.txt:1" in said.err
    assert run(["catalogue", "demo"]) == 2
    assert "texts/step-12/the-wet-map.txt: The Wet Map" in capsys.readouterr().out


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", '{"schema": 2, "resources": []}', '{"schema": 1, "resources": [{"path": "a"}]}', "path,kind\n", "x" * 300, "[" * 100_000,
     '{"schema": 1, "resources": [{}]', "path,kind,title\n\"a"],
    ids=range(10),
)  # fmt: skip
@pytest.mark.parametrize("name", ["old.csv", "old.json"])
def test_no_catalogue(name: str, text: str, demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path(name).write_text(text, encoding="utf-8")
    assert run(["catalogue", "demo", "--check", name]) == 2
    assert f"{name}: This is no catalogue that decodecheck wrote, or it is damaged." in capsys.readouterr().err


def test_wrong_use(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for arguments, said in (
        (["nowhere"], "nowhere: This is no folder."),
        (["demo/plan.csv"], "demo/plan.csv: This is no folder."),
        (["demo", "--check", "nowhere.csv"], "nowhere.csv: There is no such file."),
        (["demo", "--check", "page.html"], "Check one that ends in .csv or .json."),
        (["demo", "-o", "page.xyz"], "End it in .csv, .json, .html, or add --format."),
        (["demo", "-o", "a.csv", "--check", "a.csv"], "--check writes nothing."),
        (
            ["demo", "-o", "demo/harbour-lane.progression", "--format", "csv"],
            "This file is what the catalogue is made of.",
        ),
    ):
        assert run(["catalogue", *arguments]) == 2
        assert said in capsys.readouterr().err, arguments
