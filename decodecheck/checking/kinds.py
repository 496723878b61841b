"""The kinds of findings: each a file under `findings/`, found by folder, that holds what it looks for and what it says.

A kind of verdict has `applies(word)` and `say(word)`: is this distinct word of the kind, and what is said of it. A kind of another
sort has `find(report)` instead, which goes through the text itself (a word twice in a row). The file's docstring is its manual page.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Protocol

from decodecheck.checking import findings
from decodecheck.documents.allowance import Allowance
from decodecheck.documents.document import Document, Place
from decodecheck.judging.verdict import Verdict
from decodecheck.progression.order import TeachingOrder

ERROR, WARNING, OFF = "error", "warning", "off"
SEVERITIES = (ERROR, WARNING, OFF)
"""What findings of a kind can be made: OFF ones are not told."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A distinct word of a text with its verdict, as a kind of finding sees it.

    `form` is as it stands; `plain` as a progression would write it (in small letters, unless it is a name); `name` says that its
    place makes it one; `settled_as` is how a decodecheck.toml names the text, "" where none can and where no place is asked for; `place` the lines of a [[settled]] table that say
    where it stands; `pin` the statement that pins what its spelling suggests, "" for a known word and where nothing can be said; `kept` what would be kept
    for a later step: the text, or in a list the word.
    """

    form: str
    plain: str
    name: bool
    verdict: Verdict
    step: int
    accent: str
    settled_as: str = ""
    place: str = ""
    pin: Callable[[], str] = str
    kept: str = "text"


class Checked(Protocol):
    """What a kind that goes through the text itself is given: the report on a text."""

    @property
    def document(self) -> Document:
        """The text."""

    @property
    def order(self) -> TeachingOrder:
        """What it was held against."""

    @property
    def step(self) -> int:
        """At which step."""

    @property
    def idle(self) -> Sequence[Allowance]:
        """The allowances of the text that allow nothing."""


@dataclass(frozen=True, slots=True)
class Spotted:
    """What a kind that goes through the text itself has found: where (offsets into it), and what is said of it.

    What is no part of the text has a `word` that it is about, its own places, and the line that it stands in.
    """

    start: int
    end: int
    message: str
    remedy: str
    word: str = ""
    places: tuple[Place, Place] | None = None
    excerpt: str = ""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of finding: its name, severity, manual page, and either what it looks for in a verdict and says of it (message,
    remedy), or how it goes through a text."""

    name: str
    severity: str
    page: str
    applies: Callable[[Judged], bool] | None
    say: Callable[[Judged], tuple[str, str]] | None
    find: Callable[[Checked], Iterable[Spotted]] | None
    by_place: bool = False
    """Whether what it says names the place of the occurrence, or its text (PLACED in its module)."""

    @property
    def title(self) -> str:
        """The first line of the page."""
        return self.page.split("\n", 1)[0]


@cache
def kinds() -> dict[str, Kind]:
    """All kinds by name."""
    found = {}
    for info in pkgutil.iter_modules(findings.__path__):
        if info.name.startswith("_"):
            continue
        module = importlib.import_module(f"{findings.__name__}.{info.name}")
        name = info.name.replace("_", "-")
        applies, say, find = (getattr(module, part, None) for part in ("applies", "say", "find"))
        page = (module.__doc__ or "").strip()
        found[name] = Kind(name, module.SEVERITY, page, applies, say, find, hasattr(module, "PLACED"))
    return found


def kind_of(word: Judged) -> Kind | None:
    """The kind of finding that a word is; None for one that is fine."""
    return next((kind for kind in kinds().values() if kind.applies and kind.applies(word)), None)
