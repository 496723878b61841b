"""One kind of finding on word lists a file: SEVERITY, find(examined), and a docstring that is its manual page."""

from __future__ import annotations

import pkgutil


def names() -> list[str]:
    """The names of all kinds; none is loaded."""
    return sorted(info.name.replace("_", "-") for info in pkgutil.iter_modules(__path__))
