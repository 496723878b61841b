"""A small school in a folder of its own, and ways to run the program there."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

PROGRESSION = """progression "Harbour Lane order of teaching"
step 1
  teach p, e, n, t, a, h, s, i
  tricky the
step 2
  teach ea as in leaf, m, d, r
allow names Tilda, Nettle
"""
TEXT = "The tin hat.\n"
LONGEST = 60
"""Seconds after which a command counts as waiting for ever."""


def make(folder: Path) -> Path:
    """The school: a progression and a text that can be read."""
    (folder / "school.progression").write_text(PROGRESSION, encoding="utf-8")
    (folder / "tin.txt").write_text(TEXT, encoding="utf-8")
    return folder


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "decodecheck", *arguments]


def run(
    folder: Path,
    *arguments: str,
    given: bytes = b"",
    prepare: Callable[[], None] | None = None,
    **environment: str,
) -> subprocess.CompletedProcess[bytes]:
    """Run a command in the folder; TimeoutExpired where it waits. `prepare` is called in the new process."""
    return subprocess.run(
        command(*arguments),
        cwd=folder,
        input=given,
        capture_output=True,
        check=False,
        timeout=LONGEST,
        preexec_fn=prepare,
        env={**os.environ, **environment},
    )


def without_privilege() -> None:
    """Take from a process of the superuser what lets it read files that may not be read: CAP_DAC_OVERRIDE (1) and
    CAP_DAC_READ_SEARCH (2) leave the bounding set (Linux, prctl(2), PR_CAPBSET_DROP) and are lost at exec."""
    import ctypes

    if os.geteuid() == 0:
        library = ctypes.CDLL(None, use_errno=True)
        for capability in (1, 2):
            assert library.prctl(24, capability, 0, 0, 0) == 0
