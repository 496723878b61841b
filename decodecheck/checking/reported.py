"""What every report has, whatever it is on: a text, or a list of words. Formats for programs ask for nothing else."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Protocol

from decodecheck.checking.treatment import Treatment
from decodecheck.checking.values import Finding
from decodecheck.documents.document import Document
from decodecheck.progression.order import TeachingOrder


class Reported(Protocol):
    """A report on one file."""

    @property
    def path(self) -> str:
        """The file as messages name it."""

    @property
    def order(self) -> TeachingOrder:
        """What it was held against."""

    @property
    def step(self) -> int:
        """At which step."""

    @property
    def counts(self) -> Counter[str]:
        """Words by status."""

    @property
    def findings(self) -> Sequence[Finding]:
        """All findings in the order of the file."""

    @property
    def errors(self) -> int:
        """How many words are blocked."""

    @property
    def severity(self) -> str:
        """The severity of the gravest finding, "" where there is none."""

    @property
    def treatment(self) -> Treatment:
        """What its project makes of the findings."""

    @property
    def allowed_here(self) -> Counter[str]:
        """How often each word is allowed by hand."""

    @property
    def let_through(self) -> bool:
        """Whether there are blocked words, but no more than the project allows."""

    @property
    def to_see_to(self) -> bool:
        """Whether there is anything to tell besides blocked words that are let through."""

    @property
    def document(self) -> Document:
        """What the file holds."""
