"""The formats of a check, one a module, found by folder: SUFFIX (the end of names of its files), and render(run, view), which gives
the output piece by piece; MACHINE where the output is for programs, and goes out to the letter."""

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
