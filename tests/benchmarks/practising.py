"""`coverage` and `replace` against one `check` of the same text, and how their time grows with the text.

    python -m tests.benchmarks.practising

A story takes the commands, each a process of its own; a book takes the calls in this process, against a check of every word with what is said of
it, by a new session each time (what words mean is known from the first one on). Exit code 1 if a figure is over its limit.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from decodecheck.over_texts import coverages, replaceable
from decodecheck.session import Session
from tests.benchmarks.corpus import STORIES
from tests.benchmarks.measuring import DEMO, FAILED, HARBOUR, RUNS, TOOL, report_pairs, whole_process

STORY, BOOK = DEMO / "texts" / "step-27" / "the-magic-show.txt", STORIES / "alice.txt"
STEP = "20"
ASKED: dict[str, Callable[[Session, list[str]], Iterator[object]]] = {
    "coverage": coverages,
    "replace": lambda session, paths: replaceable(session, paths, 5),
}
WHOLE = {"coverage": 1.6, "replace": 1.4}
"""Limits of a command over `check`, as whole processes, on a story of 250 words."""
INSIDE = {"coverage": 2.0, "replace": 2.5}
"""Limits of a book over a check of all its words, in this process."""
GROWTH = 2.3
"""The limit of twice the text over the text."""


def practising() -> None:
    """A story as a process of its own, a book in this one, and the book twice over."""
    for name, ask in ASKED.items():
        asked = [str(STORY), "--progression", str(HARBOUR), "--step", STEP]
        pairs = whole_process([*TOOL, name, *asked], [*TOOL, "check", "--no-cache", *asked])
        report_pairs(f"{name} of {STORY.name} / check (whole process)", pairs, WHOLE[name])
        _taken(ask, BOOK), _check(BOOK)
        pairs = [_taken(ask, BOOK) / _check(BOOK) for _ in range(RUNS)]
        report_pairs(f"{name} of {BOOK.name} / check of every word", pairs, INSIDE[name])
        with tempfile.TemporaryDirectory() as folder:
            twice = Path(folder, "twice.txt")
            text = BOOK.read_text(encoding="utf-8")
            twice.write_text(f"{text}\n\n{text}", encoding="utf-8")
            pairs = [_taken(ask, twice) / _taken(ask, BOOK) for _ in range(RUNS)]
            report_pairs(f"{name} of {BOOK.name} twice over / once", pairs, GROWTH)


def _ready() -> Session:
    """A session with the steps of the whole lexicon worked out, which all need."""
    session = Session(str(HARBOUR), STEP)
    assert len(session.order(str(HARBOUR)).readiness.words)
    return session


def _taken(ask: Callable[[Session, list[str]], Iterator[object]], path: Path) -> float:
    """Seconds that a new session takes for a text."""
    session = _ready()
    start = time.perf_counter()
    assert [*ask(session, [str(path)])]
    return time.perf_counter() - start


def _check(path: Path) -> float:
    """Seconds of a check of every word of a text by a new session, with what is said of each."""
    session = _ready()
    start = time.perf_counter()
    report = session.check_text(path.read_text(encoding="utf-8"), every_word=True)
    assert sum(1 for _ in report.words)
    return time.perf_counter() - start


def main() -> int:
    """Run it."""
    practising()
    return int(bool(FAILED))


if __name__ == "__main__":
    sys.exit(main())
