"""Which step a text fits, against checking it at every step."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import lxml.html
import pytest

from decodecheck.checking.report import TextReport
from decodecheck.cli.main import run
from decodecheck.insight.fit import Fit, fit
from decodecheck.judging.verdict import UNSURE
from decodecheck.lexicon.store import NEVER
from decodecheck.session import Session

from .demo import DEMO, HARBOUR

TEXTS = sorted((DEMO / "texts").rglob("*.txt"))


def report(path: Path, step: int = 20) -> TextReport:
    return Session(str(HARBOUR), str(step)).check_story(str(path))


def of(text: str, folder: Path, step: int = 20) -> Fit:
    path = folder / "story.txt"
    path.write_text(text, encoding="utf-8")
    return fit(report(path, step))


@pytest.mark.parametrize("path", TEXTS, ids=lambda p: p.stem)
def test_every_step_is_as_if_the_text_was_checked_there(path: Path) -> None:
    at_any = [fit(report(path, step)) for step in (1, 27)]
    assert at_any[0].by_step() == at_any[1].by_step()
    for step, number in at_any[0].by_step():
        there = report(path, step)
        # what may be one of two words is not sure to be read
        assert number == there.errors + there.counts[UNSURE], step
    first = next((step for step, number in at_any[0].by_step() if not number), None)
    assert at_any[0].first == first == at_any[1].first


@pytest.mark.parametrize("path", TEXTS, ids=lambda p: p.stem)
def test_without_what_holds_it_back(path: Path, tmp_path: Path) -> None:
    found = fit(report(path))
    if found.held_back is None:
        return
    text = path.read_text(encoding="utf-8")
    for word in found.held_back.words:
        assert word in text.lower()
        text = text.replace(word, "cat").replace(word.capitalize(), "Cat")
    assert of(text, tmp_path).first == found.held_back.without


def test_two_words_push_it_far(tmp_path: Path) -> None:
    found = of("The cat sat in the sun. It had a biscuit and bread.", tmp_path)
    assert found.first is None and found.held_back is not None
    assert found.held_back.words == ("biscuit", "bread")
    assert [w.word for w in found.waiting if w.step == NEVER] == ["biscuit", "bread"]
    assert of("A cat sat.", tmp_path).held_back is None


def test_unknown_words_are_told_apart(tmp_path: Path) -> None:
    found = of("A cat sat on a flumb.", tmp_path)
    assert found.unknown == ("flumb",) and found.first is not None


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(DEMO.parent)
    assert run(["fit", "corpora_demo", "--format", "json"]) == 0
    files = {Path(f["path"]).name: f for f in json.loads(capsys.readouterr().out)["files"]}
    bake = files["bake-day.txt"]
    assert bake["first_step"] is None and bake["held_back"] == {"words": ["biscuit", "bread"], "without": 26}
    assert bake["help"][0]["cleared"] + bake["help"][0]["left"] == 7 and len(bake["help"]) == 5
    assert files["a-ticket-for-nettle.txt"]["groups"]["Limpets"] == []
    assert run(["fit", "corpora_demo/texts", "--format", "csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) == 8 and {row["Terns"] for row in rows} >= {"can read it", "4 words"}
    assert run(["fit", "corpora_demo/texts", "--groups"]) == 0
    out = capsys.readouterr().out
    assert "tell: cold, pull, yacht" in out and "texts/step-14" not in out.split("\n")[0]
    target = tmp_path / "fit.html"
    assert run(["fit", "corpora_demo/texts/step-22/bake-day.txt", "-o", str(target)]) == 0
    assert "it is a text to read aloud" in target.read_text(encoding="utf-8")


def test_what_it_cannot_do(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "story.txt"
    path.write_text("A cat sat.", encoding="utf-8")
    assert run(["fit", str(path), "--progression", str(HARBOUR), "--groups"]) == 2
    assert "No group is named for these texts." in capsys.readouterr().err
    assert run(["fit", str(tmp_path / "gone.txt"), "--progression", str(HARBOUR)]) == 2
    assert "There is no such file or folder." in capsys.readouterr().err


def test_order_and_columns_of_several(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(DEMO.parent)
    rows: dict[str, list[dict[str, str]]] = {}
    for sort in ("first", "name", "waiting", "words"):
        assert run(["fit", "corpora_demo/texts", "--sort", sort, "--format", "csv"]) == 0
        rows[sort] = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [row["first_step"] for row in rows["first"]] == ["8", "12", "16", "20", "23", "27", "", ""]
    for sort, column in (("waiting", "not_yet_decodable"), ("words", "words")):
        numbers = [int(row[column]) for row in rows[sort]]
        assert numbers == sorted(numbers) and len({*numbers}) > 1
    assert [row["path"] for row in rows["name"]] == sorted(row["path"] for row in rows["words"])
    # the numbers by step are those of a check at each
    bake = next(row for row in rows["name"] if row["path"].endswith("bake-day.txt"))
    by_step = {int(step): int(words) for step, words in (pair.split(":") for pair in bake["by_step"].split())}
    assert list(by_step) == list(range(1, 28)) and by_step[22] == int(bake["not_yet_decodable"]) == 7


def test_charts_and_texts_to_read_aloud(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(DEMO.parent)
    target = tmp_path / "fit.html"
    assert run(["fit", "corpora_demo/texts", "-o", str(target)]) == 0
    page = lxml.html.fromstring(target.read_text(encoding="utf-8"))
    figures = page.xpath("//figure")
    assert len(figures) == 8
    for figure in figures:
        (svg,) = figure.xpath("svg")
        name, described = (page.get_element_by_id(svg.get(f"aria-{what}by")) for what in ("labelled", "described"))
        assert name.tag == "figcaption" and "words that cannot be read at each step" in name.text_content()
        assert "From step 1: " in described.text_content()
        assert 3 < len(svg.xpath("rect")) <= 27
    (aloud,) = [p for p in page.xpath("//p") if "texts to read aloud" in p.text_content()]
    assert aloud.text_content().count(".txt") == 2 and "bake-day" in aloud.text_content()
    assert run(["fit", "corpora_demo/texts/step-08", "-o", str(target)]) == 0
    assert "read aloud" not in target.read_text(encoding="utf-8")
