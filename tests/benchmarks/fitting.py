"""`fit` over all steps of the demo's order against one `check` of the same text at one step: the commands, and what they find.

    python -m tests.benchmarks.fitting

Exit code 1 if a figure is over its limit.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from decodecheck.insight.reasons import reasons
from decodecheck.over_texts import fits
from decodecheck.session import Session
from tests.benchmarks.corpus import STORIES
from tests.benchmarks.measuring import DEMO, FAILED, HARBOUR, RUNS, TOOL, report_pairs, whole_process

TEXTS = (DEMO / "texts" / "step-27" / "the-magic-show.txt", STORIES / "alice.txt")
STEP = "20"
LIMIT = 1.2


def fitting() -> None:
    """A story of 250 words and a book, in processes of their own and in this one."""
    for path in TEXTS:
        asked = [str(path), "--progression", str(HARBOUR), "--step", STEP]
        pairs = whole_process([*TOOL, "fit", *asked], [*TOOL, "check", "--no-cache", *asked])
        report_pairs(f"fit of {path.name} / check (whole process)", pairs, LIMIT)
        _fit(path), _check(path)
        report_pairs(f"fit of {path.name} / check", [_fit(path) / _check(path) for _ in range(RUNS)], LIMIT)


def _fit(path: Path) -> float:
    """Seconds of a fit by a new session."""
    session = _ready(Session(str(HARBOUR), STEP))
    start = time.perf_counter()
    assert [*fits(session, [str(path)], groups=False)]
    return time.perf_counter() - start


def _check(path: Path) -> float:
    """Seconds of a check by a new session, with the reasons for each word that its report tells."""
    session = _ready(Session(str(HARBOUR), STEP))
    start = time.perf_counter()
    assert reasons(session.check_story(str(path))).reasons
    return time.perf_counter() - start


def _ready(session: Session) -> Session:
    """A session with the steps of the whole lexicon worked out, which both need."""
    assert len(session.order(str(HARBOUR)).readiness.words)
    return session


def main() -> int:
    """Run it."""
    fitting()
    return int(bool(FAILED))


if __name__ == "__main__":
    sys.exit(main())
