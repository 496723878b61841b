"""The JSON report against its published schema, and the shape of explain's lines."""

import json
from pathlib import Path

import jsonschema
import pytest

from decodecheck.cli.main import run
from decodecheck.resources import PACKAGE

DEMO = Path(__file__).parents[2] / "corpora_demo"
SCHEMA = json.loads((PACKAGE / "reports" / "check" / "check-1.schema.json").read_text(encoding="utf-8"))


def test_the_demo_follows_the_schema(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(DEMO), "--format", "json", "--every-word"]) == 1
    document = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    assert len(document["files"]) == 11
    for file in document["files"]:
        text = Path(file["path"]).read_text(encoding="utf-8").split("\n")
        for word in file["words"]:
            assert text[word["line"] - 1][word["column"] - 1 :].startswith(word["word"])
        judged = sum(n for status, n in file["counts"].items() if status != "unjudged")
        assert judged == len(file["words"])


def test_the_demo_follows_the_schema_line_by_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(DEMO), "--format", "jsonl", "--every-word"]) == 1
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    schema = json.loads((PACKAGE / "reports" / "check" / "check-lines-1.schema.json").read_text(encoding="utf-8"))
    validator = jsonschema.Draft202012Validator(schema)
    for line in lines:
        validator.validate(line)
    assert run(["check", str(DEMO), "--format", "json", "--every-word"]) == 1
    whole = json.loads(capsys.readouterr().out)
    for kind in ("finding", "word"):
        assert [
            {name: value for name, value in line.items() if name not in ("line_is", "path")}
            for line in lines
            if line["line_is"] == kind
        ] == [one for file in whole["files"] for one in file[f"{kind}s"]]


def test_the_planted_faults_are_found(capsys: pytest.CaptureFixture[str]) -> None:
    run(["check", str(DEMO), "--format", "json"])
    files = json.loads(capsys.readouterr().out)["files"]
    found = {Path(f["path"]).name: [x["word"] for x in f["findings"]] for f in files if f["findings"]}
    assert found == {
        "nettle-and-the-boat.txt": ["yacht", "jumped", "Splash", "Pull", "tail", "cold", "Where"],
        "bake-day.txt": ["biscuit", "bread", "biggest", "grow", "nose", "friend", "saw"],
        "step-23-ow.csv": ["row", "town", "slow", "yellow", "box", "snow"],
    }


def test_explain_as_lines_of_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        run(
            [
                "explain",
                "Cake",
                "flumb",
                "12",
                "--format",
                "jsonl",
                "--progression",
                str(DEMO / "harbour-lane.progression"),
            ]
        )
        == 0
    )
    cake, unknown, nothing = map(json.loads, capsys.readouterr().out.splitlines())
    assert cake["word"] == "Cake" and cake["origin"] == "listed" and cake["first_step"] == 21
    (reading,) = cake["readings"]
    assert reading["ipa"] == "keɪk" and reading["structure"] == "CVC"
    assert [(g["grapheme"], g["letters"], g["sounds"]) for g in reading["graphemes"]] == [
        ("c", [0], ["k"]), ("a-e", [1, 3], ["eɪ"]), ("k", [2], ["k"]),
    ]  # fmt: skip
    assert (reading["grapheme_count"], reading["sound_count"]) == (3, 3)
    assert unknown["origin"] == "predicted" and unknown["first_step"] is None
    assert [g["grapheme"] for g in unknown["readings"][0]["graphemes"]] == ["f", "l", "u", "mb"]
    assert nothing["origin"] is None and nothing["readings"] == []


@pytest.mark.parametrize(
    ("word", "accent", "ipa"),
    [
        ("bath", "southern-british", "bɑːθ"), ("bath", "northern-english", "baθ"), ("bath", "general-american", "bæθ"),
        ("car", "scottish", "kar"), ("car", "general-american", "kɑɹ"), ("put", "northern-english", "pʊt"), ("cup", "northern-english", "kʊp"),
        ("fern", "scottish", "fɛrn"), ("bird", "scottish", "bɪrd"), ("turn", "scottish", "tʌrn"), ("hearing", "southern-british", "hɪərɪŋ"),
    ],
)  # fmt: skip
def test_accents(word: str, accent: str, ipa: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", word, "--format", "jsonl", "--accent", accent]) == 0
    assert ipa in [r["ipa"] for r in json.loads(capsys.readouterr().out)["readings"]]
