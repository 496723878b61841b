"""What is read of a page in HTML: its text without tags, in paragraphs, without what a page does not show or no child reads."""

from __future__ import annotations

import html
import re
from collections import Counter
from dataclasses import dataclass

from decodecheck.documents.html_tokens import COMMENT, END, RAW, START, TEXT, Token, place_of, tokens
from decodecheck.documents.prose import Prose

_BLOCKS = """address article aside blockquote body button caption center dd details dialog dir div dl dt fieldset figcaption figure footer form
    h1 h2 h3 h4 h5 h6 head header hgroup hr html legend li main menu nav ol optgroup option p pre search section select summary table
    tbody td tfoot th thead title tr ul"""
BLOCKS = frozenset(_BLOCKS.split())
"""Elements that stand on lines of their own (HTML standard, section 15.3, rendering, from memory)."""
_VOID = "area base br col embed hr img input link meta param source track wbr"
VOID = frozenset(_VOID.split())
"""Elements without contents (HTML standard, section 13.1.2, from memory)."""
_LEFT_OUT = """audio canvas code datalist del head iframe kbd math nav noembed noframes noscript object rp rt samp script select style svg
    template textarea title video xmp"""
LEFT_OUT = frozenset(_LEFT_OUT.split())
"""Elements that a page does not show as its text, or that no child reads."""
PICTURES = frozenset(("img", "video", "audio", "object", "svg", "canvas", "iframe", "input"))
"""Elements that stand between what is before and after them in a line."""
HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
SECTIONS = frozenset(("article", "aside", "blockquote", "main", "section"))
CLOSES = {
    "li": ("li",), "dt": ("dt", "dd"), "dd": ("dt", "dd"), "td": ("td", "th"), "th": ("td", "th"), "tr": ("td", "th", "tr"),
}  # fmt: skip
"""Elements whose start ends one of these that is open."""
MOST_OPEN = 100
"""So many open elements are looked through for one whose end tag was left out."""
ENTITY = re.compile(r"&(?:#[0-9]{1,9};?|#[xX][0-9A-Fa-f]{1,8};?|[A-Za-z][A-Za-z0-9]{0,31};?)")
_NOT_SHOWN = re.compile(r"(?:display\s*:\s*none|visibility\s*:\s*hidden)", re.IGNORECASE)
_LINE_ENDS = str.maketrans("\n\r", "  ")


@dataclass(slots=True)
class _Open:
    name: str
    left_out: bool


class HtmlText:
    """Follows the tags of a page, or of pieces of it, and adds to a Prose what is read."""

    def __init__(self, prose: Prose, alt_text: bool = False) -> None:
        self.prose = prose
        self.alt_text = alt_text
        self.source = prose.source
        """Where the page's characters are; another of the same length than the prose's where marks around them are blanked out."""
        self.open: list[_Open] = []
        self.names: Counter[str] = Counter()
        self.left_out = 0
        """How many of the open elements are left out."""
        self.at_mark = ""
        """Whether a raised number or a link begins or ends here: "begins", "ends" or ""."""
        self.heading: tuple[int, int] | None = None
        """Where in the text the first heading stands."""

    def feed(self, start: int, end: int) -> None:
        """The piece source[start:end]. Raises UserError for what is opened and not closed."""
        for token in tokens(self.source, start, end):
            self.token(token)

    def token(self, token: Token) -> None:
        """The next piece of the page."""
        if token.kind == TEXT:
            self.text(token.start, token.end)
        elif token.kind == RAW:
            self.add(self.source.text[token.start + 9 : token.end - 3], token.start + 9, token.end - 3)
        elif token.kind == COMMENT:
            self.prose.comment(token.name, token.start, token.end)
        elif token.kind == START:
            self._start(token)
        elif token.kind == END:
            self._end(token)

    def text(self, start: int, end: int) -> None:
        """Characters source[start:end], in which entities stand for others."""
        if self.left_out:
            return
        text, at = self.source.text, start
        for match in ENTITY.finditer(text, start, end) if "&" in text[start:end] else ():
            said = html.unescape(match[0])
            if said != match[0]:
                self.add(text[at : match.start()], at, match.start())
                self.add(said, match.start(), match.end())
                at = match.end()
        self.add(text[at:end], at, end)

    def add(self, text: str, start: int, end: int) -> None:
        """Characters that are read, `text` for source[start:end]."""
        if not text or self.left_out:
            return
        prose = self.prose
        if self.at_mark:
            # the number of a note is no part of the word before it, or after
            glued = text[0].isdigit() and prose.last != "" and not (prose.last.isspace() or prose.last.isdigit())
            if glued or (self.at_mark == "ends" and prose.last.isdigit() and text[0].isalpha()):
                prose.add(" ", start, start)
            self.at_mark = ""
        # a page shows the end of a line as a blank; an empty line in it ends no paragraph
        prose.add(text if self.names["pre"] else text.translate(_LINE_ENDS), start, end)

    def _start(self, token: Token) -> None:
        name = token.name
        if name in ("sup", "sub", "a"):
            self.at_mark = "begins"
        if name in BLOCKS:
            self._close_implied(name)
            self.prose.part()
        if self.heading is None and not self.left_out and name in HEADINGS:
            self.heading = self.prose.origin.length, self.prose.origin.length
        if name == "br" and not self.left_out:
            self.prose.add("\n", token.start, token.end)
        if name in PICTURES and not self.left_out:
            self._picture(token)
        if name in VOID or (token.closed and name not in BLOCKS):
            return
        left_out = name in LEFT_OUT or _hidden(token) or (name == "footer" and self._of_the_page(token))
        self.open.append(_Open(name, left_out))
        self.names[name] += 1
        self.left_out += left_out
        if token.closed:
            self._close(name)

    def _picture(self, token: Token) -> None:
        """Something that is no text stands in a line; what is written for it has lines of its own, where it is read."""
        start, end = place_of(self.source, token, "alt") if self.alt_text else (0, 0)
        if start == end:
            self.prose.add(" ", token.start, token.start)
            return
        self.prose.add("\n", token.start, token.start)
        self.text(start, end)
        self.prose.add("\n", token.end, token.end)

    def _end(self, token: Token) -> None:
        name = token.name
        if name in ("sup", "sub", "a"):
            self.at_mark = "ends"
        if self.heading and self.heading[0] == self.heading[1] and name in HEADINGS:
            self.heading = self.heading[0], self.prose.origin.length
        if name == "p" and not self.names[name]:
            self.prose.part()
        if self.names[name]:
            self._close(name)

    def _close(self, name: str) -> None:
        """The element of this name that was opened last ends, with all that is open in it."""
        while self.open:
            last = self.open.pop()
            self.names[last.name] -= 1
            self.left_out -= last.left_out
            if last.name in BLOCKS:
                self.prose.part()
            if last.name == name:
                return

    def _close_implied(self, name: str) -> None:
        """End an open paragraph, item or cell whose end tag was left out."""
        ended = ("p", *CLOSES.get(name, ()))
        if not any(self.names[other] for other in ended):
            return
        again = True
        while again:
            again = False
            for element in self.open[: -MOST_OPEN - 1 : -1]:
                if element.name in ended:
                    self._close(element.name)
                    again = True
                    break
                if element.name in BLOCKS:
                    break

    def _of_the_page(self, token: Token) -> bool:
        """Whether a footer is one of the page: in no section, and without notes."""
        notes = "note" in token.attributes.get("epub:type", "") + token.attributes.get("role", "")
        return not notes and not any(self.names[name] for name in SECTIONS)


def _hidden(token: Token) -> bool:
    """Whether a page hides an element, or a device that reads it aloud says only the number of a printed page there."""
    attributes = token.attributes
    return (
        "hidden" in attributes
        or _NOT_SHOWN.search(attributes.get("style", "")) is not None
        or "doc-pagebreak" in attributes.get("role", "").split()
        or "pagebreak" in attributes.get("epub:type", "").split()
    )
