"""Scratch repositories of git."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

needs_git = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed here")
SCHOOL = "step 1\n  teach a, b, d, e, h, m, n, p, r, s, t, th\n  tricky the, a\n"


def git(folder: Path, *arguments: str) -> str:
    """What git says; no configuration of the machine has a say."""
    settings = (
        "user.name=Omar",
        "user.email=omar@harbour-lane.example.org",
        "protocol.file.allow=always",
        "init.defaultBranch=main",
    )
    command = ["git", *(part for each in settings for part in ("-c", each)), *arguments]
    environment = {**os.environ, "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False, env=environment)
    assert done.returncode == 0, done.stderr
    return done.stdout


def commit(folder: Path, message: str = "A change") -> None:
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "--allow-empty", "-m", message)


def write(folder: Path, files: dict[str, str]) -> None:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")


def make(folder: Path) -> Path:
    """A school under version control: two years with an order each, the second built on the first, and two texts a year."""
    folder.mkdir(parents=True, exist_ok=True)
    write(
        folder,
        {
            "orders/year-1.progression": SCHOOL,
            "orders/year-2.progression": 'include "year-1.progression"\nstep 2\n  teach i, o\n',
            "year-1/decodecheck.toml": 'progression = "../orders/year-1.progression"\n',
            "year-2/decodecheck.toml": 'progression = "../orders/year-2.progression"\n',
            "year-1/the map.txt": "The map.\n",
            "year-1/é.txt": "A tin.\n",
            "year-2/tin.txt": "A tin.\n",
            "year-2/pot.txt": "A pot.\n",
        },
    )
    git(folder, "init", "-q", "-b", "main")
    commit(folder, "The texts of two years")
    return folder
