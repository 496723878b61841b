"""What belongs to a project: nothing outside of its folder is read because a file inside it says so.

A path that a person types may lead anywhere. A path that stands in a file, or a link that lies among the files of a project,
may not: the files may be a stranger's, and messages print lines of what they read.
"""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path

CONFIG = "decodecheck.toml"
"""The name of the configuration file."""
PYPROJECT = "pyproject.toml"
TABLE = "tool.decodecheck"
"""The table of a pyproject.toml that may stand for it."""
_TABLE = re.compile(rb"""tool["']?\s*\.\s*["']?decodecheck""")
_TOOLS = re.compile(rb"""\[\s*["']?tool["']?\s*\]|\btool["']?\s*=\s*\{""")
"""The table that ours may stand in under its own name."""


def names_table(data: bytes) -> bool:
    """Whether a pyproject.toml seems to have a table for us, so that it is worth reading."""
    if b"decodecheck" not in data:
        return False
    tools = _TOOLS.search(data)
    return _TABLE.search(data) is not None or (tools is not None and data.find(b"decodecheck", tools.end()) >= 0)


def real(path: str | Path) -> Path:
    """A path without links, whether or not it is there; a link that leads back to itself stays as it is.

    Raises ValueError for what can be no path.
    """
    return Path(os.path.realpath(path))


def outside(target: str | Path, base: str | Path) -> bool:
    """Whether `target`, which a file in the folder `base` names, is none of the files that belong with that folder."""
    folders = (real(base), real(Path.cwd()), *_project(real(base)))
    found = real(target)
    return not any(found.is_relative_to(folder) for folder in folders)


def leads_out(path: str | Path) -> bool:
    """Whether a path that lies in a project is or goes through a link to something outside it."""
    straight = os.path.abspath(path)  # noqa: PTH100 (a path for each file would be slow)
    if os.path.realpath(path) == straight:
        return False  # there is no link on the way, as on most
    lexical = Path(straight)
    base = Path.cwd() if lexical.is_relative_to(Path.cwd()) else lexical.parent
    return bool(_project(real(base))) and outside(path, base)


def _project(folder: Path) -> tuple[Path, ...]:
    """The folders above that make a project: the outermost with a configuration, the one that is under version control."""
    above = (folder, *folder.parents)
    configured = [place for place in above if os.path.lexists(place / CONFIG) or _has_table(place / PYPROJECT)]
    controlled = [place for place in above if os.path.lexists(place / ".git")]
    return (*configured[-1:], *controlled[:1])


def _has_table(path: Path) -> bool:
    with suppress(OSError):
        return path.is_file() and names_table(path.read_bytes())
    return False
