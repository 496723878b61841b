"""The marked text as HTML. Not by a template: of a text every stretch goes through here each time that the step moves."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html import escape

from markupsafe import Markup

from decodecheck.judging.verdict import UNSURE
from decodecheck.reports.marked_lines import Letters
from decodecheck.web.marked import Paragraph, Part, Stretch

_NO_HTML = re.compile(
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ufdd0-\ufdef]|["
    + "".join(chr(plane << 16 | low) for plane in range(17) for low in (0xFFFE, 0xFFFF))
    + "]"
)
"""Characters that no page may hold (HTML standard, section 13.1.4, "Text": control characters but white space, and noncharacters)."""
BLANK = '<div class="blank"></div>'


def lines(parts: Iterable[Part]) -> Markup:
    """Parts of a text, a line each; everything in them is escaped."""
    return Markup("\n".join(_line(line) for part in parts for line in part.lines))


def as_sent(text: str) -> Markup:
    """What came with a request, escaped, to be put back into its field; a blank for each character that no page may hold."""
    return Markup(escape(_NO_HTML.sub(" ", text)))


def _line(line: Paragraph) -> str:
    if not line.stretches:
        return BLANK
    return f'<p data-start="{line.start}">{"".join(_stretches(line.stretches))}</p>'


def _stretches(stretches: Iterable[Stretch]) -> Iterator[str]:
    for s in stretches:
        letters = "".join(map(_letters, s.letters))
        if s.start < 0:
            yield letters
            continue
        kind = "word by-eye" if s.status == UNSURE else "word"
        named = f'data-at="{s.start}" data-word="{escape(s.word)}" aria-label="{escape(s.said)}"'
        yield f'<button type="button" class="{kind}" {named}>{letters}</button>'


def _letters(run: Letters) -> str:
    return f"<b>{escape(run.text)}</b>" if run.in_the_way else escape(run.text)
