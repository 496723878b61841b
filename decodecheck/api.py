"""The one door for programs: check texts, given as strings or by path, and explain words. Everything comes back as a value.

from decodecheck import api

run = api.check(["texts"], progression="school.progression", step="14")
for report in run.results:
    print(report.path, report.errors, report.ready_step())
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from decodecheck.baselined import Held
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Finding
from decodecheck.errors import Problem, UserError
from decodecheck.project.baseline import read_baseline
from decodecheck.reports.words import Explained, Explainer
from decodecheck.run import Failure, Run
from decodecheck.session import Session

__all__ = [
    "Explained",
    "Failure",
    "Finding",
    "Problem",
    "Run",
    "Session",
    "TextReport",
    "UserError",
    "check",
    "check_text",
    "explain",
]


def check(
    paths: Sequence[str | Path],
    *,
    progression: str | Path | None = None,
    step: str | None = None,
    group: str | None = None,
    every_word: bool = False,
    baseline: str | Path | None = None,
) -> Run:
    """A whole run over texts and folders of texts.

    Without `progression`, `step` or `group` the nearest decodecheck.toml of each text decides. `step` is a step expression ("14",
    "14 also igh as in light"); `every_word` keeps the words that are fine, too. What cannot be read is among the run's failures. Findings that
    the file `baseline` holds are left out, and counted in `aside` of the run.
    Raises UserError where a step and a group are given, and for a baseline that cannot be read.
    """
    held = None if baseline is None else Held(read_baseline(str(baseline)))
    session = Session(None if progression is None else str(progression), step, group)
    run = session.run([str(path) for path in paths], every_word=every_word)
    return (held.of(run) if held else run).whole()


def check_text(
    text: str, *, progression: str | Path, step: str | None = None, name: str = "text", every_word: bool = False
) -> TextReport:
    """The report on a text that is given as a string. Raises UserError for a progression or a step that is wrong, and for an empty
    text."""
    return Session(str(progression), step).check_text(text, name, every_word=every_word)


def explain(word: str, *, accent: str = "southern-british") -> Explained:
    """How a word divides into graphemes, and what each of them says in an accent."""
    return Explainer(accent, None).explain(word)
