"""The report for people: totals first, each word once, details on request, short for many texts."""

from pathlib import Path

import pytest

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.cli.main import run
from decodecheck.documents.document import Document
from decodecheck.judging.judge import Judge
from decodecheck.printing import columns
from decodecheck.progression.resolve import load, resolve
from decodecheck.reports.check.text import render
from decodecheck.reports.marks import mark
from decodecheck.reports.view import View
from decodecheck.run import Run
from tests.reports.test_golden_pages import held

DEMO = Path(__file__).parents[2] / "corpora_demo"
ORDER = load(str(DEMO / "harbour-lane.progression"))


def report(text: str, step: int = 14, path: str = "story.txt") -> TextReport:
    return Checker(Judge(ORDER, step)).check(Document(path, text))


def said(text: str, step: int = 14, view: View | None = None) -> str:
    return "".join(render(Run((report(text, step),), texts=1), view or View()))


BOAT = (DEMO / "texts" / "step-14" / "nettle-and-the-boat.txt").read_text(encoding="utf-8")
CAKE = (DEMO / "texts" / "step-22" / "bake-day.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "text", "step", "view"),
    [
        ("check-in-a-terminal", CAKE, 22, View(width=80)),
        ("check-with-details", BOAT, 14, View(details=True)),
        (
            "check-names-and-senses",
            "We read. Zofkin, Aoife and Zofkin wind a bulb. Flumbs! The flumbs ran.",
            10,
            View(width=72),
        ),
    ],
)
def test_it_is_kept_and_read_line_by_line(name: str, text: str, step: int, view: View) -> None:
    held(name, said(text, step, view))


def test_totals_come_first() -> None:
    first = said("Bread. The bread and a yacht. A hen.").splitlines()
    assert first[0] == "story.txt: 3 of 8 words not yet decodable (2 different)"
    assert first[2] == "  2 words can be read at no step of this progression: bread and yacht."


def test_each_word_stands_once_with_its_count() -> None:
    lines = said("Bread. The bread, the bread! Grow, grow. A nose.", 22).splitlines()
    assert "  step 23, ow as in grow: gr[ow] (2)" in lines
    assert "  step 24, s as in is: no[s]e" in lines
    assert "  never taught here, ea as in head: br[ea]d (3)" in lines
    where = [lines.index(line) for line in lines if line.startswith(("  step ", "  never taught"))]
    assert where == sorted(where)


@pytest.mark.parametrize(
    ("word", "marked"),
    [("white", "[wh][i]t[e]"), ("bread", "br[ea]d"), ("made", "m[a]d[e]"), ("rain", "r[ai]n")],
)
def test_neighbours_are_marked_one_by_one(word: str, marked: str) -> None:
    order, problems = resolve("step 1\n  teach b, d, h, i, m, n, r, t, w, e, a, s\n", "x")
    assert not problems
    assert mark(word, Judge(order, 1).judge(word).blockers) == marked


def test_a_terminal_gets_the_text_itself() -> None:
    assert "The text:\n  A y[ach]t.\n" in said("A yacht.", view=View(width=80))
    assert "The text:" not in said("A yacht.", view=View(width=40))
    assert "The text:" not in said("A yacht.")
    for line in said(CAKE * 3, view=View(width=70)).splitlines()[6:]:
        assert columns(line) <= 70


def test_one_word_in_full() -> None:
    text = "Bread.\n\nThe bread and a hen.\nBread\n"
    lines = said(text, view=View(word="bread")).splitlines()
    assert lines[0] == "story.txt:1:1: Br[ea]d - not yet decodable (also in lines 3 and 4)"
    assert lines[1:3] == ["    Bread.", "    ^^^^^"]
    assert said(text, view=View(word="hen")) == "story.txt: “hen” is decodable, from step 2 on (1 time).\n\n"
    assert said(text, view=View(word="ship")) == "story.txt: “ship” is not in this text.\n\n"


def test_every_place_on_request() -> None:
    lines = said("Bread.\n\nThe bread.\n", view=View(every_place=True)).splitlines()
    assert "story.txt:1:1: Br[ea]d - not yet decodable" in lines
    assert "story.txt:3:5: br[ea]d - not yet decodable, as above" in lines


def many(texts: list[str], view: View | None = None) -> str:
    reports = tuple(report(text, path=f"texts/{n:03}.txt") for n, text in enumerate(texts))
    return "".join(render(Run(reports, texts=len(reports)), view or View()))


def test_many_clean_texts_take_few_lines() -> None:
    assert len(many(["A hen ran."] * 400).splitlines()) < 10
    assert many(["A hen ran."] * 400, View(quiet=True)) == ""
    assert many(["A hen ran."] * 3, View(quiet=True)) == ""
    assert said("A hen ran.", view=View(quiet=True)) == ""


def test_a_table_ends_a_report_on_several_texts() -> None:
    lines = many(["A hen ran.", "A flumb ran.", "Bread. The yacht.", "A hen."]).splitlines()
    assert lines[-5:] == [
        "text           step  not yet decodable  by eye  can be read from",
        "texts/002.txt    14                  2       0  no step",
        "texts/001.txt    14                  0       1  no step",
        "Fine: texts/000.txt, texts/003.txt",
        "4 texts: 2 fine, 1 with words that cannot be read yet, 1 with words to check by eye.",
    ]


def test_very_many_texts_are_a_table_with_the_words_in_the_way() -> None:
    lines = many(["Bread. The yacht. Rain. A nose. A ship in the bay."] * 30).splitlines()
    assert len(lines) == 32
    assert lines[1].endswith("no step           bread, yacht, nose, bay and 1 more")
    assert "br[ea]d" in many(["Bread."] * 30, View(details=True))


def test_the_groups_that_can_read_a_text_stand_with_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "school.progression").write_text(
        "step 1\n  teach a, h, t, n, e\nstep 2\n  teach r\nstep 3\n  teach ai\n", encoding="utf-8"
    )
    groups = 'progression = "school.progression"\nstep = 1\n[groups]\nTerns = "2"\nGulls = "2 also ai"\nOwls = "1"\n'
    (tmp_path / "decodecheck.toml").write_text(groups, encoding="utf-8")
    (tmp_path / "one.txt").write_text("Hen ran at rat.\n", encoding="utf-8")
    (tmp_path / "two.txt").write_text("Rain.\n", encoding="utf-8")
    assert run(["check", "one.txt"]) == 1
    assert "  Groups that can read it: Terns, Gulls.\n" in capsys.readouterr().out
    assert run(["check", "one.txt", "two.txt"]) == 1
    table = capsys.readouterr().out.splitlines()[-3:]
    assert table[0].endswith("step 2; by Terns, Gulls") and table[1].endswith("step 3; by Gulls")
