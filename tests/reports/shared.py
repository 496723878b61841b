"""One set of findings that every format of a check renders: paths and words that are hostile to formats, places of every sort."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple, cast

from decodecheck.checking.kinds import ERROR, WARNING
from decodecheck.checking.treatment import PLAIN, Treatment
from decodecheck.checking.values import Finding
from decodecheck.documents.document import Block, Document, Place
from decodecheck.errors import Problem
from decodecheck.judging.verdict import BLOCKED, DECODABLE, DOUBLED, UNSURE, Blocker
from decodecheck.lexicon.items import Item
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from decodecheck.reports import check as formats
from decodecheck.reports.view import View
from decodecheck.run import Failure, Run

ORDER, _ = resolve('progression "Harbour Lane"\nstep 1\n  teach a, b, d, e, h, r, t\nstep 2\n  teach s\n', "x")

HOSTILE = (
    "bread",
    "\"bread'",
    "::error::br,ead%0A%",
    "<b>&amp;</b>]]><!--",
    "a|b`c`*d*_e_[f](g)\\h#i~j~",
    "\x1b[31m\x07br\x7fead\x9b",
    "br\u202eead\u2066\u200f",
    "🐴👩\u200d🚀e\u0301",
    "##[error]##vso[x]",
    "bre-\n  ad",
    "{{ bread }}{% x %}",
    "@tilda",
    "https://nettle.example.org",
)
PATHS = (
    "texts/bake-day.txt",
    'odd "story", 100%25: a|b <x>&y.txt',
    "::error file=x::\nnew line\r.txt",
    "\x1b[31m\u202e##[error]]]>.txt",
    "\udce9t\u00e9 🐴.txt",
    "../above/a b#c?d.txt",
    "a:b/c.txt",
)


@dataclass
class Made:
    """A report that is put together by hand, with what every report has and nothing else."""

    path: str
    document: Document
    order: TeachingOrder = field(default_factory=lambda: ORDER)
    step: int = 1
    counts: Counter[str] = field(default_factory=Counter)
    findings: Sequence[Finding] = ()
    treatment: Treatment = PLAIN
    allowed_here: Counter[str] = field(default_factory=Counter)
    let_through: bool = False

    @property
    def to_see_to(self) -> bool:
        return bool(self.findings)

    @property
    def errors(self) -> int:
        return self.counts[BLOCKED]

    @property
    def severity(self) -> str:
        return ERROR if self.errors else WARNING if self.findings else ""


def _report(path: str, place: Place | None) -> Made:
    """Every hostile word once, a line or a block each; every third is a warning."""
    text, blocks, findings = "", [], []
    spans = []
    for number, word in enumerate(HOSTILE, 1):
        start = len(text)
        if place is not None:
            paragraph, cell = (number if place.paragraph else 0), (f"B{number}" if place.cell else "")
            blocks.append(Block(start, replace(place, paragraph=paragraph, cell=cell)))
        text += f"The {word} x.\n\n"
        spans.append((start + 4, start + 4 + len(word)))
    document = Document(path, text, tuple(blocks)) if blocks else Document(path, text)
    blocker = Blocker("ea", (2, 3), ("e",), "head", None, "never-taught", Item.gpc("ea", ("DRESS",), "m"))
    double = Blocker("dd", (4,), ("d",), "", 2, DOUBLED, Item.gpc("dd", ("d",), "f"))
    for number, (start, end) in enumerate(spans):
        warning = number % 3 == 2
        findings.append(
            Finding(
                "unlisted-word" if warning else "untaught-correspondence",
                WARNING if warning else ERROR,
                text[start:end],
                UNSURE if warning else BLOCKED,
                start,
                end,
                document.place(start),
                document.place(end),
                () if warning else (blocker, double)[: 1 + number % 2],
                f"The word {text[start:end]} is not known.",
                f"Look at {text[start:end]}:\nword = 1" if warning else f"Use another word for {text[start:end]}.",
            )
        )
    blocked = sum(f.severity == ERROR for f in findings)
    counts = Counter({BLOCKED: blocked, UNSURE: len(findings) - blocked, DECODABLE: 2 * len(findings)})
    return Made(path, document, counts=counts, findings=findings)


def reports() -> list[Made]:
    """A report for each path, the last three without lines; and one with nothing to tell."""
    places = (
        None,
        None,
        None,
        None,
        Place(page=2, paragraph=1),
        Place(sheet="Au|tumn <1>", cell="B1"),
        Place(chapter="A & ]]> B", paragraph=1),
    )
    made = [_report(path, place) for path, place in zip(PATHS, places)]
    return [*made, Made("fine.txt", Document("fine.txt", "The hat."), counts=Counter({DECODABLE: 2}))]


FAILURES = (
    Failure("gone\n::error::.txt", (Problem("gone\n::error::.txt", "There is no such file.", "Check the path."),)),
    Failure("cp<1252>.txt", (Problem("cp<1252>.txt", "This ]]> 100% cannot be read.", "Save it | again.", 3, 5, "caf\udce9"),)),
)  # fmt: skip


def rendered(name: str) -> str:
    """The whole set in a format."""
    run = Run(cast(Any, tuple(reports())), failures=[*FAILURES], texts=len(PATHS) + 1)
    return "".join(formats.named(name).render(run, View()))


class Expected(NamedTuple):
    """What a format has to tell of a finding."""

    report: Made
    finding: Finding


def expected() -> list[Expected]:
    """The findings of the set, in order."""
    return [Expected(report, finding) for report in reports() for finding in report.findings]
