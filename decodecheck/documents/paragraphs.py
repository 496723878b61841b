"""Paragraphs of a document that has no lines, put together into one text; notes and text boxes come after what they belong to."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from decodecheck.documents.allowance import Allowance
from decodecheck.documents.document import WHOLE, Block, Document, Place
from decodecheck.documents.notes import OwnStep

NOT_READ = "not read"
"""The name of a style for what the child does not read."""
_BETWEEN = re.compile(r"[\s_-]+")


def is_not_read(style: str) -> bool:
    """Whether a style has that name, whatever its capitals, with a hyphen or without."""
    return _BETWEEN.sub(" ", style).strip().lower() == NOT_READ


@dataclass(slots=True)
class Paragraph:
    """Its text in pieces, each with the number of its page (0: not known), and the paragraphs of its notes and text boxes."""

    pieces: list[tuple[str, int]] = field(default_factory=list)
    beside: list[Paragraph] = field(default_factory=list)
    left_out: bool = False

    def add(self, text: str, page: int) -> None:
        """More text, on a page."""
        if self.pieces and self.pieces[-1][1] == page:
            self.pieces[-1] = self.pieces[-1][0] + text, page
        elif text:
            self.pieces.append((text, page))

    @property
    def holds_text(self) -> bool:
        """Whether there is anything to be read in it or beside it."""
        return any(not text.isspace() for text, _ in self.pieces) or any(p.holds_text for p in self.beside)


class Assembly:
    """A text that grows by paragraphs."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.parts: list[str] = []
        self.blocks: list[Block] = []
        self.length = 0
        self.allowances: list[Allowance] = []
        self.own_step: OwnStep | None = None

    def add(self, pieces: Iterable[tuple[str, Place]], *, apart: str = "\n\n") -> None:
        """A stretch of text in pieces with places, set apart from what was before; columns run on from piece to piece where the
        places have no lines."""
        column = 1
        first = True
        for text, place in pieces:
            if first and self.length:
                self._put(apart)
            first = False
            if not place.line:
                place = Place(column=column, paragraph=place.paragraph, page=place.page, chapter=place.chapter)
            self.blocks.append(Block(self.length, place))
            self._put(text)
            column += len(text)

    def add_all(self, paragraphs: Iterable[Paragraph]) -> None:
        """Paragraphs in order, numbered from 1; those without text are not counted."""
        number = 0
        for paragraph in paragraphs:
            if paragraph.holds_text:
                number += 1
                self._add(paragraph, number, 0)

    def document(self) -> Document:
        """The whole text."""
        text, blocks = "".join(self.parts), tuple(self.blocks) or WHOLE
        return Document(self.path, text, blocks, allowances=tuple(self.allowances), own_step=self.own_step)

    def _add(self, paragraph: Paragraph, number: int, page: int) -> None:
        if any(not text.isspace() for text, _ in paragraph.pieces):
            self.add((text, Place(paragraph=number, page=own or page)) for text, own in paragraph.pieces)
        last = next((own for _, own in reversed(paragraph.pieces) if own), page)
        for beside in paragraph.beside:
            if beside.holds_text:
                self._add(beside, number, last)

    def _put(self, text: str) -> None:
        self.parts.append(text)
        self.length += len(text)
