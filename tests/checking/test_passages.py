"""Whole passages against the verdict of every word by hand, at three steps of the demo school's order of teaching."""

from pathlib import Path

import pytest

from decodecheck.checking.check import Checker
from decodecheck.judging.judge import Judge
from decodecheck.progression.resolve import load
from decodecheck.source import read_text
from decodecheck.tables import read_table
from tests.data.folder import DATA

ORDER = load(str(Path(__file__).parents[2] / "corpora_demo" / "harbour-lane.progression"))
PASSAGES = sorted((DATA / "passages").glob("*.txt"))


@pytest.mark.parametrize("step", [8, 16, 25])
@pytest.mark.parametrize("path", PASSAGES, ids=lambda p: p.stem)
def test_passage(path: Path, step: int) -> None:
    source = read_text(str(path))
    report = Checker(Judge(ORDER, step)).check(source, every_word=True)
    ours = [(*source.place(w.start), w.word, w.verdict.status) for w in report.words]
    wanted = [
        (int(r["line"]), int(r["column"]), r["word"], r[f"step{step}"]) for r in read_table(path.with_suffix(".tsv"))
    ]
    assert ours == wanted


def test_there_are_four_of_some_length() -> None:
    assert len(PASSAGES) == 4
    assert all(len(read_table(p.with_suffix(".tsv"))) >= 130 for p in PASSAGES)
