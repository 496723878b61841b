"""Cuts HTML and XHTML into text, tags and comments, each with its place.

After the tokenizer of the HTML standard (html.spec.whatwg.org, section 13.2.5, from memory), in one pass. The parser of Python's
library gives places as well, but it takes minutes for some hundred kilobytes of tags or comments without an end
(Python 3.11.7: 150 KB of `<a ` 294 s), and prints tags as text after a lone `&#`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from decodecheck.documents.notes import mistake
from decodecheck.errors import Problem, UserError
from decodecheck.source import SourceText

TEXT, RAW, START, END, COMMENT = "text", "raw", "start", "end", "comment"
"""Kinds of tokens; RAW is text in which an ampersand is one."""
RAW_ELEMENTS = ("script", "style", "title", "textarea", "xmp", "iframe", "noembed", "noframes")
"""Their contents are no markup, up to their end tag."""
_NAME = re.compile(r"[A-Za-z][^\s/>]*+")
_ATTRIBUTE = re.compile(r"""[\s/]*+([^\s/>=][^\s/>=]*+)(?:\s*+=\s*+(?:"([^"]*+)"|'([^']*+)'|([^\s>]*+)))?+""")
_TAG_END = re.compile(r"[^>]*+>")
_COMMENT_END = re.compile(r"--!?>")
_SUBSET = re.compile(r"<!doctype[^>\[]*+\[", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of a page: what kind it is, where it stands, and the name in small letters of a tag, or the text of a comment."""

    kind: str
    start: int
    end: int
    name: str = ""
    attributes: Mapping[str, str] = field(default_factory=dict)
    closed: bool = False
    """Whether a start tag ends in />."""


def tokens(source: SourceText, start: int, end: int) -> Iterator[Token]:
    """The tokens of source[start:end], in order. Raises UserError for what is opened and not closed: it would hide the rest."""
    text, at = source.text, start
    while at < end:
        mark = text.find("<", at, end)
        if mark < 0:
            mark = end
        if at < mark:
            yield Token(TEXT, at, mark)
        if mark == end:
            return
        head = text[mark + 1 : mark + 2]
        if head.isascii() and head.isalpha():
            token = _start_tag(source, mark, end)
            at = token.end
            yield token
            if token.name in RAW_ELEMENTS and not token.closed:
                closing = re.compile(rf"</{token.name}(?=[\s/>])", re.IGNORECASE).search(text, at, end)
                if not closing:
                    raise UserError(_open(source, mark, f"<{token.name}>"))
                at = closing.start()
        elif head == "/" and _NAME.match(text, mark + 2, end):
            name = _NAME.match(text, mark + 2, end)
            tail = _TAG_END.match(text, mark, end)
            if not (name and tail):
                raise UserError(_open(source, mark, "A tag"))
            at = tail.end()
            yield Token(END, mark, at, name[0].lower())
        elif head and head in "!?/":
            token = _aside(source, mark, end)
            at = token.end
            yield token
        else:
            yield Token(TEXT, mark, mark + 1)
            at = mark + 1


def _start_tag(source: SourceText, start: int, end: int) -> Token:
    text = source.text
    name = _NAME.match(text, start + 1, end)
    assert name
    attributes: dict[str, str] = {}
    at = name.end()
    while match := _ATTRIBUTE.match(text, at, end):
        attributes.setdefault(match[1].lower(), match[2] or match[3] or match[4] or "")
        at = match.end()
    tail = _TAG_END.match(text, at, end)
    if not tail:
        raise UserError(_open(source, start, "A tag"))
    return Token(START, start, tail.end(), name[0].lower(), attributes, text[tail.end() - 2] == "/")


def place_of(source: SourceText, tag: Token, attribute: str) -> tuple[int, int]:
    """Where the value of an attribute stands in a start tag of the page; (0, 0) for one without it."""
    at = tag.start + 1 + len(tag.name)
    while match := _ATTRIBUTE.match(source.text, at, tag.end):
        if match[1].lower() == attribute:
            return next((match.span(group) for group in (2, 3, 4) if match[group]), (0, 0))
        at = match.end()
    return 0, 0


def _aside(source: SourceText, start: int, end: int) -> Token:
    """A comment, a document type, an instruction to programs, or a stretch of characters that are no markup."""
    text = source.text
    if text.startswith("<!--", start):
        close = _COMMENT_END.search(text, start + 2, end)
        if not close:
            raise UserError(_open(source, start, "A comment"))
        return Token(COMMENT, start, close.end(), text[start + 4 : close.start()])
    if text.startswith("<![CDATA[", start):
        close_at = text.find("]]>", start, end)
        if close_at < 0:
            raise UserError(_open(source, start, "A CDATA section"))
        return Token(RAW, start, close_at + 3)
    if _SUBSET.match(text, start, end):
        what = "This page defines names of its own for characters, which are not read."
        raise UserError(mistake(source, start, what, "Take what stands in [ ] out of the document type."))
    tail = _TAG_END.match(text, start, end)
    if not tail:
        raise UserError(_open(source, start, "A tag"))
    return Token(COMMENT, start, tail.end())


def _open(source: SourceText, start: int, thing: str) -> Problem:
    return mistake(source, start, f"{thing} is opened here and not closed; it hides what follows.", "Close it.")
