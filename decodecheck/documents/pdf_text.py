"""What is read of a PDF file: its lines, without page numbers and the running heads of its pages."""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from decodecheck.documents.document import Document, Place
from decodecheck.documents.in_child import TIMED_OUT, ChildFailed, run
from decodecheck.documents.kinds import damaged
from decodecheck.documents.paragraphs import Assembly
from decodecheck.documents.sentences import CLOSING, ENDS, MAY_END
from decodecheck.errors import Problem, UserError
from decodecheck.formats import PDF
from decodecheck.source import shown

CHILD = Path(__file__).with_name("pdf_child.py")
SECONDS, MEGABYTES = 60, 1_000
"""What reading one file may take; three hundred pages take about two seconds."""
MARGIN, LEAST_MARGIN = 0.09, 54.0
"""How much of a page, at the top and at the bottom, is where running heads stand: such a part of it, or at least so many points."""
FEWEST_HEADS = 3
MOST_PAGES_WITH_HEADS = 0.6
"""A line is a running head if it stands on so many pages, and on this part of all with text."""
SAME_HEIGHT = 3.0
"""Points by which the heights of a running head may differ."""
GAP = 1.35
"""A distance of lines that is so much larger than usual parts paragraphs."""
RARE = 20
"""A distance that is one of so many is a chance."""
UNREADABLE = 0.2
"""If so much of what should be letters has no meaning in Unicode, the file does not say what its letters are."""
_NUMBER = re.compile(r"(?:(?i:page)\s+)?(?:\d{1,4}|[ivx]{1,6})(?:\s*(?:/|of)\s*\d{1,4})?")
_DIGITS = re.compile(r"\d+")
PRIVATE = "".join(map(chr, range(0xE000, 0xF900)))
"""Characters for private use (Unicode 16.0, section 23.5)."""
ADVICE = "Ask for the text it was made from, or type the words into a plain text file."


@dataclass
class _Line:
    """A line as it is printed: its number on its page, and how far down it stands (-1: not known)."""

    text: str
    page: int
    number: int
    baseline: float
    height: float

    @property
    def at_edge(self) -> bool:
        """Whether it stands where running heads do."""
        margin = max(MARGIN * self.height, LEAST_MARGIN)
        return 0 <= self.baseline < margin or self.baseline > self.height - margin


def read_pdf(path: str, data: bytes) -> Document:
    """The text of a PDF file. Raises UserError where it is locked, damaged, without text, or takes too much to read."""
    pages = _pages(path, data)
    written = "".join(line.text for page in pages for line in page)
    lines = [[line for line in page if any(map(_is_text, line.text.split()))] for page in pages]
    if not written.strip(PRIVATE):
        what = "This PDF file holds no text, only pictures of it, or nothing."
        raise UserError(Problem(shown(path), what, ADVICE))
    unknown = sum(_meaningless(c) for c in written)
    if unknown > UNREADABLE * len(written):
        what = "This PDF file does not say which letters it shows."
        raise UserError(Problem(shown(path), what, ADVICE))
    heads, usual = _heads(lines), _usual_distance(lines)
    assembly = Assembly(shown(path))
    before: _Line | None = None
    for page in lines:
        for line in _without_numbers([line for line in page if _head(line) not in heads or not line.at_edge]):
            apart = "\n\n" if before is None or _parted(before, line, usual) else "\n"
            assembly.add(
                [(" ".join(filter(_is_text, line.text.split())), Place(page=line.page, line=line.number))], apart=apart
            )
            before = line
    return assembly.document()


def _pages(path: str, data: bytes) -> list[list[_Line]]:
    try:
        answer = json.loads(run(CHILD, data, seconds=SECONDS, megabytes=MEGABYTES))
    except ChildFailed as failed:
        took = f"{SECONDS} seconds" if failed.why == TIMED_OUT else "the memory that it may take"
        what = (
            f"This PDF file could not be read in {took}."
            if failed.why == TIMED_OUT
            else f"This PDF file is damaged, or needs more than {took}."
        )
        raise UserError(Problem(shown(path), what, ADVICE)) from None
    except ValueError:
        raise damaged(path, PDF) from None
    if "problem" in answer:
        raise _problem(path, answer["problem"])
    return [
        [
            _Line(" ".join(text.split()), page, number, baseline, height)
            for number, (text, baseline) in enumerate(lines, 1)
        ]
        for page, (height, lines) in enumerate(answer["pages"], 1)
    ]


def _problem(path: str, problem: str) -> UserError:
    if problem == "locked":
        what, todo = "This PDF file is locked with a password.", "Open it, and print it into a PDF file without one."
        return UserError(Problem(shown(path), what, todo))
    if problem == "too long":
        what, todo = "This PDF file has more pages or letters than are read.", "Divide it, or leave it out."
        return UserError(Problem(shown(path), what, todo))
    return damaged(path, PDF)


def _is_text(stretch: str) -> bool:
    """Whether a stretch is more than signs of a font of signs, such as the dots before lines of a list."""
    return stretch.strip(PRIVATE) != ""


def _meaningless(character: str) -> bool:
    """Whether a character is one that stands for no letter: for private use, a replacement, a control."""
    return (
        character in "\ufffd\ufffe"
        or "\ue000" <= character <= "\uf8ff"
        or (character < " " and not character.isspace())
    )


def _head(line: _Line) -> tuple[str, int]:
    """A line as it comes again on other pages: with any number, at about this height."""
    down = line.baseline if line.baseline < line.height / 2 else line.baseline - line.height
    return _DIGITS.sub("0", line.text), round(down / SAME_HEIGHT)


def _heads(pages: list[list[_Line]]) -> set[tuple[str, int]]:
    """The running heads: lines at the edge of most pages that say the same. What ends like a sentence is none: it may be a refrain
    of the story, and a child reads it."""
    often = Counter(
        head
        for page in pages
        for head in {
            _head(line) for line in page if line.at_edge and line.text.rstrip(CLOSING)[-1:] not in (*ENDS, *MAY_END)
        }
    )
    fewest = max(FEWEST_HEADS, MOST_PAGES_WITH_HEADS * sum(map(bool, pages)))
    return {head for head, times in often.items() if times >= fewest}


def _without_numbers(page: list[_Line]) -> list[_Line]:
    """A page without a first or last line that is only its number."""
    for end in (0, -1):
        if page and _NUMBER.fullmatch(page[end].text.strip(" -–—·|[]()")):
            page = page[1:] if end == 0 else page[:-1]
    return page


def _usual_distance(pages: list[list[_Line]]) -> float:
    """From line to line of a paragraph: the smallest distance that is not rare; 0 where that is not known."""
    steps = Counter(
        round(later.baseline - earlier.baseline)
        for page in pages
        for earlier, later in pairwise(page)
        if 0 <= earlier.baseline < later.baseline
    )
    return min((step for step, times in steps.items() if step > 2 and times * RARE >= steps.total()), default=0)


def _parted(before: _Line, line: _Line, usual: float) -> bool:
    """Whether a paragraph ends between two lines."""
    if before.page != line.page or 0 <= line.baseline < before.baseline:
        # a sentence may go on over the page, or at the top of the next column
        return not line.text[:1].islower() or before.text.rstrip(CLOSING)[-1:] in (*ENDS, *MAY_END)
    if before.baseline < 0 or line.baseline < 0 or not usual:
        return line.number - before.number > 1
    return line.baseline - before.baseline > GAP * usual
