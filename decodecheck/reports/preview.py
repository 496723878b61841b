"""The half page of a preview."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import PurePath

from decodecheck.insight.preview import Preview
from decodecheck.reports.page import Block, Entry, Page, Paragraph

MOST = 10
MANY = 40
LONGEST_TITLE = 60


def page(p: Preview) -> Page:
    """The page, half of one."""
    title = next((s.title for s in p.order.steps if s.number == p.report.step), "")
    at = f"step {p.report.step} of {p.order.last}" + (f', "{title}"' if title else "")
    if p.order.variant:
        at += f' ("{p.order.variant}")'
    return Page(f"Before you read: {_title(p)}", f"{p.order.name}, {at}", tuple(_blocks(p)), "half")


def _title(p: Preview) -> str:
    """The title that the text opens with, else the name of its file."""
    first = next((line.strip() for line in p.report.source.text.splitlines() if line.strip()), "")
    if 0 < len(first) <= LONGEST_TITLE and first[-1] not in ".,;:!?”\"'":
        return first
    return PurePath(p.report.source.path).stem


def _blocks(p: Preview) -> Iterator[Block]:
    if p.practice:
        yield Paragraph("Practise these first: say each sound, then blend them into the word.")
        for practice in p.practice:
            yield Entry(practice.lesson.text, ", ".join(practice.words))
    if p.tricky:
        yield Paragraph("Tricky words: say the word, look at the part that is unusual.")
        for word, odd in p.tricky[:MOST]:
            if odd:
                yield Entry(word, "; ".join(_spoken(part) for part in odd.split("; ")))
        known = [w for w, odd in p.tricky[:MOST] if not odd] + [w for w, _ in p.tricky[MOST:]]
        if known:
            yield Entry("others" if len(known) < len(p.tricky) else "words", ", ".join(known))
    if p.names:
        yield Paragraph(f"Say these names aloud before reading: {_list(p.names)}.")
    if p.sounds:
        yield Paragraph(f"Sound-words: {_list(p.sounds)}.")
    if p.read_to:
        yield Paragraph(f"Not taught yet; read these to the child: {_list(p.read_to, MANY)}.")
    if p.by_eye:
        yield Paragraph(f"Look at these yourself first: {_list(p.by_eye)}.")


def _spoken(part: str) -> str:
    """`ai: e of bed` as it is said to a parent: ai sounds like the e of bed."""
    grapheme, colon, sound = part.partition(": ")
    if not colon or sound == "silent":
        return f"{grapheme} is silent" if colon else part
    return f"{grapheme} sounds like the {sound.replace(' and ', ' and the ')}"


def _list(words: Sequence[str], most: int = MOST) -> str:
    if len(words) > most:
        return (
            ", ".join(words[:most])
            + f" and {len(words) - most} more; perhaps another text, or a later step, is the better one"
        )
    return ", ".join(words)
