"""The half page of a preview."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import PurePath

from decodecheck.insight.preview import Practice, Preview
from decodecheck.phonics.shape_names import in_words
from decodecheck.reports.page import Block, Entry, Page, Paragraph

MOST = 10
WORDS_EACH = 8
MANY = 40
LONGEST_TITLE = 60


def page(p: Preview) -> Page:
    """The page, half of one."""
    title = next((s.title for s in p.order.steps if s.number == p.report.step), "")
    at = f"step {p.report.step} of {p.order.last}" + (f', "{title}"' if title else "")
    if p.order.variant:
        at += f' ("{p.order.variant}")'
    return Page(f"For the adult who listens: {_title(p)}", f"{p.order.name}, {at}", tuple(_blocks(p)), "half")


def _title(p: Preview) -> str:
    """The title that the text opens with, else the name of its file."""
    first = next((line.strip() for line in p.report.document.text.splitlines() if line.strip()), "")
    if 0 < len(first) <= LONGEST_TITLE and first[-1] not in ".,;:!?”\"'":
        return first
    return PurePath(p.report.path).stem


def _blocks(p: Preview) -> Iterator[Block]:
    if p.practice:
        often = any(times > 1 for practice in p.practice for _, times in practice.words)
        yield Paragraph(
            "Practise these words first: say each sound, then blend them."
            + (" (×3: three times in the text)" if often else "")
        )
        for practice in p.practice:
            yield _practice(practice)
    if p.tricky:
        yield Paragraph("Tricky words: say the word, look at the part that is unusual.")
        for word, odd in p.tricky[:MOST]:
            if odd:
                yield Entry(word, odd)
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


def _practice(practice: Practice) -> Entry:
    lesson = practice.lesson
    label = (
        in_words(lesson.name).partition(" (")[0] if lesson.mention.kind in ("structure", "adjacent") else lesson.text
    )
    words = [word + (f" ×{times}" if times > 1 else "") for word, times in practice.words]
    left = len(words) - WORDS_EACH
    return Entry(label, ", ".join(words[:WORDS_EACH]) + (f" and {left} more" if left > 0 else ""))


def _list(words: Sequence[str], most: int = MOST) -> str:
    if len(words) > most:
        return (
            ", ".join(words[:most])
            + f" and {len(words) - most} more; perhaps another text, or a later step, is the better one"
        )
    return ", ".join(words)
