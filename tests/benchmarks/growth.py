"""How time grows with the size of the input: every kind of input that a stage could be slow on, at a quarter and at the whole.

    python -m tests.benchmarks.growth [KIND ...] [--bytes N]

Each measurement is a process of its own: it runs the command once on a tiny input of the kind, so that nothing has to be loaded
any more, and then on the real one. The exponent is that of the size by which the time grows: 1 is in step with the input, 2 is
four times the time for twice the input. What takes less than `FLOOR` seconds at the whole size has no exponent that means
anything, and passes. Exit code 1 where a limit is exceeded.
"""

from __future__ import annotations

import contextlib
import io
import math
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks import growth_plans
from tests.benchmarks.growth_kinds import KINDS, ROOT

WHOLE = 1_000_000
LIMIT = 1.3
FLOOR = 0.4
PATIENCE = 240
"""Seconds after which a run counts as one that never ends."""
assert growth_plans, "its kinds are registered with the others"


def seconds(name: str, size: int) -> float:
    """The processor time of one kind at one size, in this process, after a tiny run of it."""
    from decodecheck.cli.main import run

    with tempfile.TemporaryDirectory() as folder:
        for number, amount in enumerate((60, size)):
            place = Path(folder, str(number))
            place.mkdir()
            arguments = KINDS[name](place, amount)
            with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
                start = time.process_time()
                code = run(arguments)
                taken = time.process_time() - start
            assert code in (0, 1, 2), (name, code)
    return taken


def _apart(name: str, size: int) -> float:
    """The same in a process of its own; infinite where it takes too long or fails."""
    command = [sys.executable, "-m", "tests.benchmarks.growth", "--measure", name, str(size)]
    try:
        done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, timeout=PATIENCE, check=False)
    except subprocess.TimeoutExpired:
        return math.inf
    if done.returncode:
        print(done.stderr[-1500:], file=sys.stderr)
        return math.inf
    return float(done.stdout.split()[-1])


def table(names: list[str], size: int = WHOLE) -> list[str]:
    """Print a line for each kind; gives the names of those over the limit."""
    over = []
    print(f"{'kind':<44} {'1/4':>9} {'whole':>9} exponent", flush=True)
    for name in names:
        small = _apart(name, size // 4)
        large = _apart(name, size) if small < math.inf else math.inf
        exponent = math.log(large / small, 4) if large < math.inf else math.inf
        bad = large == math.inf or (large > FLOOR and exponent > LIMIT)
        if bad:
            over.append(name)
        print(f"{name:<44} {small:8.3f}s {large:8.3f}s {exponent:8.2f}{'  OVER' if bad else ''}", flush=True)
    return over


def main(arguments: list[str]) -> int:
    """Measure the kinds named, or all."""
    if arguments[:1] == ["--measure"]:
        print(seconds(arguments[1], int(arguments[2])))
        return 0
    size = WHOLE
    if "--bytes" in arguments:
        at = arguments.index("--bytes")
        size = int(arguments[at + 1])
        del arguments[at : at + 2]
    over = table(arguments or list(KINDS), size)
    if over:
        print(f"over the limit of {LIMIT}: {', '.join(over)}")
    return int(bool(over))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
