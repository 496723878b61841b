"""The kinds of findings: each a file under `findings/`, found by folder; its docstring is its manual page."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from decodecheck.checking import findings
from decodecheck.checking.verdict import Blocker, Verdict

ERROR, WARNING = "error", "warning"


@dataclass(frozen=True, slots=True)
class Guess:
    """A predicted reading: its graphemes and IPA, what would stand in the way, and the statement that pins it."""

    graphemes: str
    ipa: str
    blockers: tuple[Blocker, ...]
    pin: str


@dataclass(frozen=True, slots=True)
class Context:
    """What a message may speak of: the form as it stands, the step of the check, its accent, the word as a progression would
    write it (in small letters, unless it is a name), and for an unknown word what its
    spelling alone suggests."""

    form: str
    step: int
    accent: str
    plain: str
    guess: Guess | None = None
    settled_as: str = ""
    """How a decodecheck.toml names the text, "" where none can."""
    line: int = 0
    """The line of this occurrence, for kinds whose remedy names it."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of finding: its name, severity, manual page, and what it says (message, remedy) of a verdict."""

    name: str
    severity: str
    page: str
    say: Callable[[Verdict, Context], tuple[str, str]]
    by_line: bool = False
    """Whether what it says names the line of the occurrence (PLACED in its module)."""

    @property
    def title(self) -> str:
        """The first line of the page."""
        return self.page.split("\n", 1)[0]


@cache
def kinds() -> dict[str, Kind]:
    """All kinds by name."""
    found = {}
    for module_info in pkgutil.iter_modules(findings.__path__):
        if module_info.name.startswith("_"):
            continue
        module = importlib.import_module(f"{findings.__name__}.{module_info.name}")
        name = module_info.name.replace("_", "-")
        found[name] = Kind(name, module.SEVERITY, (module.__doc__ or "").strip(), module.say, hasattr(module, "PLACED"))
    return found
