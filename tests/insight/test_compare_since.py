"""A progression compared with its own past. The expectations are those of two files written side by side, or follow from what each test
commits; the JSON is held against its schema with jsonschema (JSON Schema 2020-12)."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from decodecheck.cli.main import run
from decodecheck.reports import comparison
from tests.project.repository import SCHOOL, commit, git, make, needs_git, write

pytestmark = needs_git
SCHEMA = json.loads(Path(comparison.__file__).with_name("comparison-1.schema.json").read_text(encoding="utf-8"))
COMPARE = ["progression", "compare"]


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = make(tmp_path / "our school")
    monkeypatch.chdir(folder)
    return folder


def compared(capsys: pytest.CaptureFixture[str], *arguments: str, code: int) -> dict[str, Any]:
    capsys.readouterr()
    assert run([*COMPARE, *arguments, "--format", "json"]) == code
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    jsonschema.validate(data, SCHEMA)
    return data


def test_texts_are_compared_in_the_accent_of_their_configuration(
    school: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # the a of bath is that of cat in the north, and another one in the south
    i_next = "step 2\n  teach i, o\n"
    later = SCHOOL.replace("a, b", "b") + i_next + "step 3\n  teach a as in cat\n"
    write(
        school,
        {
            "year-1/bath.txt": "A bath.\n",
            "orders/year-1.progression": SCHOOL + i_next,
            "orders/later.progression": later,
        },
    )
    found = {}
    for accent in ("southern-british", "northern-english"):
        config = f'progression = "../orders/year-1.progression"\naccent = "{accent}"\nstep = 1\n'
        write(school, {"year-1/decodecheck.toml": config})
        data = compared(capsys, "orders/year-1.progression", "orders/later.progression", "--texts", "year-1", code=1)
        found[accent] = {w["word"] for text in data["texts"] for w in text["words"]}
        assert {text["accent"] for text in data["texts"]} == {accent}
        # the words at large are those of the progressions, in their own accent
        assert (data["old"]["accent"], data["new"]["accent"]) == ("southern-british", "southern-british")
        run([*COMPARE, "orders/year-1.progression", "orders/later.progression", "--texts", "year-1"])
        said = " ".join(capsys.readouterr().out.split())
        assert "commonest, in southern-british" in said
        assert ("(step 1, in northern-english)" in said) == (accent == "northern-english")
    assert "bath" in found["northern-english"] and "bath" not in found["southern-british"]


def test_the_includes_are_those_of_then(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(school, {"orders/year-1.progression": SCHOOL.replace("n, p", "p") + "step 3\n  teach n\n"})
    write(school, {"year-2/decodecheck.toml": 'progression = "../orders/year-2.progression"\nstep = 2\n'})
    data = compared(capsys, "orders/year-2.progression", "--since", "HEAD", "--texts", "year-2", code=1)
    assert data["lessons"] == [{"lesson": "n as in net", "old_step": 1, "new_step": 3}]
    assert data["texts"] == [
        {
            "path": "year-2/tin.txt", "accent": "southern-british",
                                      "old_step": 2, "new_step": 2, "blocked_before": 0, "blocked_after": 1, "broken": True,
            "words": [
                {
                    "word": "tin", "before": "decodable", "after": "blocked",
                    "reason": "The letter n says /n/ here, as in “net”; that comes at step 3",
                    "places": [{"line": 1, "column": 3}],
                }
            ],
        }
    ]  # fmt: skip
    # the same as two files side by side
    write(school, {"then/year-1.progression": SCHOOL})
    write(school, {"then/year-2.progression": 'include "year-1.progression"\nstep 2\n  teach i, o\n'})
    beside = compared(capsys, "then/year-2.progression", "orders/year-2.progression", "--texts", "year-2", code=1)
    assert {k: v for k, v in beside.items() if k != "old"} == {k: v for k, v in data.items() if k != "old"}
    assert (data["old"], data["compared"]) == (
        {"path": "orders/year-2.progression", "name": "year-2", "accent": "southern-british", "at": "HEAD"},
        2,
    )


def test_only_texts_that_it_governs(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(school, {"orders/year-2.progression": 'include "year-1.progression"\nstep 2\n  teach i\n'})
    write(school, {"stray/hot.txt": "A hot pot.\n"})
    data = compared(capsys, "orders/year-2.progression", "--since", "HEAD", "--texts", ".", code=1)
    assert data["compared"] == 2
    (changed,) = data["texts"]
    assert changed["path"] == "year-2/pot.txt"
    assert run([*COMPARE, "orders/year-2.progression", "--since", "HEAD", "--texts", "."]) == 1
    said = capsys.readouterr()
    assert said.err == "note: 3 texts left out: their decodecheck.toml names another progression.\n"
    assert "orders/year-2.progression compared with what it was at HEAD\n" in said.out
    assert "that comes" not in said.out and "Here: pot in line 1." in said.out
    # a table that is no word list has no step, and needs none
    stepped = 'progression = "../orders/year-2.progression"\n[[texts]]\nfiles = "*.txt"\nstep = 2\n'
    write(school, {"year-2/decodecheck.toml": stepped, "year-2/plan.csv": "step,item\n1,a\n"})
    assert compared(capsys, "orders/year-2.progression", "--since", "HEAD", "--texts", ".", code=1)["compared"] == 2
    # where it governs none, none is compared
    assert (
        compared(capsys, "orders/year-2.progression", "--since", "HEAD", "--texts", "year-1", code=0)["compared"] == 0
    )


def test_nothing_has_changed(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = compared(capsys, "orders/year-2.progression", "--since", "main", "--texts", ".", code=0)
    assert (data["lessons"], data["words"], data["texts"], data["settings"]) == ([], [], [], [])
    assert compared(capsys, "orders/year-2.progression", "--since", "main", code=0)["texts"] is None


def test_into_a_file(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*COMPARE, "orders/year-2.progression", "--since", "HEAD", "--output", "change.json"]) == 0
    assert capsys.readouterr().out == ""
    jsonschema.validate(json.loads((school / "change.json").read_text(encoding="utf-8")), SCHEMA)
    assert run([*COMPARE, "orders/year-2.progression", "--since", "HEAD", "--output", "change.html"]) == 0


def test_it_was_not_there(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(school, {"orders/new.progression": SCHOOL})
    assert run([*COMPARE, "orders/new.progression", "--since", "HEAD"]) == 2
    assert capsys.readouterr().err == (
        "orders/new.progression: There was no such file at HEAD.\n  Name another state, or compare two files.\n"
    )


def test_it_was_wrong_then(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(school, {"orders/year-1.progression": "stepp 1\n  teach a, t\n"})
    git(school, "rm", "-q", "--cached", "orders/year-2.progression")
    commit(school)
    write(school, {"orders/year-1.progression": SCHOOL})
    assert run([*COMPARE, "orders/year-2.progression", "--since", "HEAD"]) == 2
    assert "orders/year-1.progression at HEAD:1:1: " in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["orders/year-1.progression"], "Name two progressions, OLD and NEW, or one and --since."),
        (["orders/year-1.progression", "orders/year-2.progression", "--since", "HEAD"], "Name one progression."),
        (["-", "--since", "HEAD"], "--since looks at a file."),
        (["orders/year-1.progression", "--since", "autumn"], "--since: git knows no state 'autumn' here"),
        (["../outside.progression", "--since", "HEAD"], "../outside.progression: "),
    ],
)
def test_wrong_use(school: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str) -> None:
    write(school.parent, {"outside.progression": SCHOOL})
    assert run([*COMPARE, *arguments]) == 2
    assert said in capsys.readouterr().err
