"""Lists held against the demo's progression, as the tests ask for them."""

from __future__ import annotations

from pathlib import Path

from decodecheck.checking.check import Checker
from decodecheck.judging.judge import judge_at
from decodecheck.lists.examined import Asked
from decodecheck.lists.mend import Mended, mend
from decodecheck.lists.reading import read_list
from decodecheck.lists.report import ListReport, report_on
from decodecheck.progression.step_expression import Standing
from tests.wordlists.asking import harbour

STEP = 23


def report(path: Path, *, ordered: bool = False, step: int = STEP) -> ListReport:
    standing = Standing(harbour(), step)
    return report_on(
        read_list(str(path)), standing, Asked(ordered=ordered), lambda at: Checker(judge_at(harbour(), at))
    )


def told(path: Path, *, ordered: bool = False, step: int = STEP) -> set[tuple[str, str]]:
    """The findings on a list as kinds and words."""
    return {(f.kind, f.word) for f in report(path, ordered=ordered, step=step).findings}


def mended(path: Path, *, ordered: bool = False) -> Mended:
    return mend(read_list(str(path)), Standing(harbour(), STEP), Asked(ordered=ordered))
