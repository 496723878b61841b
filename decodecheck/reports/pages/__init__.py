"""The formats of printable pages, one a module, found by folder: SUFFIXES (ends of names), and render(page), which gives text, or
bytes for what cannot be printed to a terminal."""

from __future__ import annotations

import importlib
import pkgutil
from types import ModuleType


def names() -> list[str]:
    """The names of all formats, plain text first; none is loaded."""
    found = (info.name for info in pkgutil.iter_modules(__path__))
    return sorted(found, key=lambda name: (name != "text", -len(name), name))


def named(name: str) -> ModuleType:
    """The format of a name."""
    return importlib.import_module(f"{__name__}.{name}")


def by_suffix(suffix: str) -> str | None:
    """The name of the format for files with an end of name; None for an end that says nothing."""
    # some are slow to load, so the one that is named like the end is asked first
    likely = sorted(names(), key=lambda name: not name.startswith(suffix[1:]))
    return next((name for name in likely if suffix in named(name).SUFFIXES), None)


def suffixes() -> list[str]:
    """The ends of names that say in which format a page is written."""
    return [suffix for name in names() for suffix in named(name).SUFFIXES if suffix]
