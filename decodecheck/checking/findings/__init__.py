"""One kind of finding a file: SEVERITY, applies(word) and say(word), or find(report); and a docstring that is its manual page."""

from __future__ import annotations

import pkgutil


def names() -> list[str]:
    """The names of all kinds; none is loaded."""
    found = (info.name for info in pkgutil.iter_modules(__path__))
    return sorted(name.replace("_", "-") for name in found if not name.startswith("_"))
