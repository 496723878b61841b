"""The formats of a check, one a module, found by folder: SUFFIX (the end of names of its files, "" where no end stands for it), and
render(run, view), which gives the output piece by piece; MACHINE where the output is for programs, and goes out to the letter.

A format yields a piece for each report, "" where it has nothing to say of one: several formats of one run then go side by side, and
no report is kept longer than all of them need it."""

from __future__ import annotations

import importlib
import pkgutil
from types import ModuleType


def names() -> list[str]:
    """The names of all formats, that for people first; none is loaded."""
    return sorted((info.name for info in pkgutil.iter_modules(__path__)), key=lambda name: (name != "text", name))


def named(name: str) -> ModuleType:
    """The format of a name."""
    return importlib.import_module(f"{__name__}.{name}")


def by_suffix(path: str) -> str | None:
    """The name of the format that the end of a file's name stands for; None where it stands for none."""
    ends = {named(name).SUFFIX: name for name in names()}
    fitting = [end for end in ends if end and path.lower().endswith(end)]
    return ends[max(fitting, key=len)] if fitting else None


def suffixes() -> list[str]:
    """The ends of names that stand for a format."""
    return [end for name in names() if (end := named(name).SUFFIX)]
