"""Runs a module in a process of its own, with limits on memory and time: a library may abort its process on a hostile file."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

TIMED_OUT, DIED = "timed out", "died"
_GRACE = 5
"""Seconds that a process has beyond its own limit, before it is ended from outside."""


class ChildFailed(Exception):
    """Why there is no answer: TIMED_OUT, or DIED, as a process does that asks for more memory than it may have."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def run(module: Path, data: bytes, *, seconds: int, megabytes: int) -> bytes:
    """What a module, run as a program, writes when it reads `data`. It gets both limits as its arguments, and keeps to them by
    `keep_to`.

    Raises ChildFailed where it takes too long, or ends without an answer.
    """
    # -P: whatever lies beside the module is not imported for a library of the same name
    command = [sys.executable, "-P", str(module), str(seconds), str(megabytes)]
    try:
        done = subprocess.run(command, input=data, capture_output=True, timeout=seconds + _GRACE, check=False)
    except subprocess.TimeoutExpired:
        raise ChildFailed(TIMED_OUT) from None
    except OSError:
        raise ChildFailed(DIED) from None
    if done.returncode:
        raise ChildFailed(TIMED_OUT if done.returncode in _OUT_OF_TIME else DIED)
    return done.stdout


_OUT_OF_TIME = (-24, 152)
"""What a process ends with that has used up its time (SIGXCPU), alone or under a shell."""
