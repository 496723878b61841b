"""Figures against their limits, and processes timed in pairs."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "corpora_demo"
HARBOUR = DEMO / "harbour-lane.progression"
EVERYTHING = ROOT / "rules" / "progressions" / "everything.progression"
TOOL = [sys.executable, "-m", "decodecheck"]
RUNS = 9
FAILED: list[str] = []

COMPILED = {**os.environ, "PYTHONDONTWRITEBYTECODE": "", "DECODECHECK_CACHE": ""}
"""Both sides from compiled modules, as an installed program runs; the first pair of runs compiles them. No answer is kept."""


def report(name: str, value: float, limit: float, unit: str = "", spread: str = "") -> None:
    """Print one figure against its limit."""
    over = value > limit
    print(f"{name:<66} {value:8.3f}{unit}  limit {limit}{unit}{spread}{'  OVER' if over else ''}", flush=True)
    if over:
        FAILED.append(name)


def report_pairs(name: str, ratios: list[float], limit: float) -> None:
    """Print the median of pairs against its limit, and how far the pairs lie apart."""
    spread = f"  ({min(ratios):.2f} to {max(ratios):.2f})"
    report(name, statistics.median(ratios), limit, spread=spread)


def whole_process(command: list[str], other: list[str], runs: int = RUNS, kept: str = "") -> list[float]:
    """The time of one command over that of another, in pairs of runs; answers are kept in the folder `kept`, if one is named."""
    return [seconds(command, kept) / seconds(other) for _ in range(runs)]


def seconds(command: list[str], kept: str = "") -> float:
    """How long a command takes that prints into a file. It may find something wrong with a text (exit code 1), nothing else."""
    return _run(command, kept)[0]


def peak(command: list[str], kept: str = "") -> float:
    """The most memory that a command held at a time, in MiB."""
    return _run(command, kept)[1]


def _run(command: list[str], kept: str = "") -> tuple[float, float]:
    """Seconds and MiB of a process of its own, with the output in files, as it is written there without a reader to wait for."""
    import tempfile

    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        start = time.perf_counter()
        process = subprocess.Popen(
            command, stdout=out, stderr=err, cwd=ROOT, env=COMPILED | {"DECODECHECK_CACHE": kept}
        )
        _, status, usage = os.wait4(process.pid, 0)
        taken = time.perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
        err.seek(0)
        assert process.returncode in (0, 1), err.read().decode()
    return taken, usage.ru_maxrss / 1024
