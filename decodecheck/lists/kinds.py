"""The kinds of findings on word lists: each a file under `findings/`, found by folder; its docstring is its manual page.

Besides, every word of a list is judged as those of texts are (`checking/findings/`).
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache

from decodecheck.lists import findings
from decodecheck.lists.examined import Examined, Fact
from decodecheck.lists.word_list import WORD


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of an entry, or of one of its cells, and what to do."""

    fact: Fact
    message: str
    remedy: str
    column: str = WORD


@dataclass(frozen=True, slots=True)
class ListKind:
    """One kind: its name, severity and manual page, and how it goes through a list."""

    name: str
    severity: str
    page: str
    find: Callable[[Examined], Iterable[Told]]

    @property
    def title(self) -> str:
        """The first line of the page."""
        return self.page.split("\n", 1)[0]


@cache
def list_kinds() -> dict[str, ListKind]:
    """All kinds by name."""
    found = {}
    for info in pkgutil.iter_modules(findings.__path__):
        module = importlib.import_module(f"{findings.__name__}.{info.name}")
        name = info.name.replace("_", "-")
        found[name] = ListKind(name, module.SEVERITY, (module.__doc__ or "").strip(), module.find)
    return found
