"""Each printable report whole, as text: read line by line by a person, then kept.

With DECODECHECK_REGENERATE=1 the pages are written anew; every changed line is to be read before it is committed.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from decodecheck.cli.main import run

GOLDEN = Path(__file__).parent / "golden"
DEMO = Path(__file__).parents[2] / "corpora_demo"
REGENERATE = os.environ.get("DECODECHECK_REGENERATE") == "1"
HARBOUR = "harbour-lane.progression"
PAGES = {
    "show": ["progression", "show", HARBOUR],
    "brief": ["progression", "brief", HARBOUR, "--step", "15"],
    "brief-group": ["progression", "brief", HARBOUR, "--step", "14 except oa as in boat"],
    "preview": ["preview", "visit.txt", "--progression", HARBOUR, "--step", "14"],
    "coverage": ["coverage", "texts/step-14/nettle-and-the-boat.txt"],
    "coverage-texts": ["coverage", "texts"],
    "compare": ["progression", "compare", HARBOUR, "changed.progression", "--texts", "texts"],
    "replace": ["replace", "visit.txt", "texts/step-22", "--progression", HARBOUR, "--step", "14"],
    "sheet": ["sheet", "lesson.txt", "--progression", HARBOUR, "--step", "23", "--title", "Week 3"],
    "advise": ["progression", "advise", HARBOUR],
    "advise-texts": ["progression", "advise", HARBOUR, "--texts", "texts"],
}


def held(name: str, text: str) -> None:
    """Hold a text against the one that is kept under a name."""
    path = GOLDEN / f"{name}.txt"
    if REGENERATE:
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo, a text with everything that a preview speaks of, and a changed order."""
    target = tmp_path / "school"
    shutil.copytree(DEMO, target)
    for name in ("visit.txt", "lesson.txt"):
        shutil.copy(GOLDEN / name, target)
    changed = (target / HARBOUR).read_text(encoding="utf-8")
    for old, new in (
        ("  teach ow as in town\n", ""),
        ("teach ay, oy", "teach ay, oy, ow as in town"),
        ("tricky where, one", "tricky one"),
        ("  teach wh\n", "  teach wh, le\n"),
        ("teach le, ph", "teach ph"),
        ('step 16 "spring, after half term"', 'step 16 "spring, last weeks"'),
        ("allow sounds brrr, moo", "allow sounds moo"),
    ):
        assert old in changed
        changed = changed.replace(old, new)
    (target / "changed.progression").write_text(changed, encoding="utf-8")
    monkeypatch.chdir(target)
    return target


@pytest.mark.parametrize("name", PAGES)
def test_page(name: str, school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(PAGES[name]) == (1 if name == "compare" else 0)
    said = capsys.readouterr().out
    kept = GOLDEN / f"{name}.expected"
    if REGENERATE:
        kept.write_text(said, encoding="utf-8", newline="\n")
    assert said == kept.read_text(encoding="utf-8")
