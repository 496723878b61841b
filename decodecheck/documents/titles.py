"""What a text is called: by its front matter, its first heading, the properties of its document, or else its first line."""

from __future__ import annotations

import re
import tomllib
from itertools import pairwise
from pathlib import Path

from decodecheck.documents.document import Document
from decodecheck.errors import UserError, cut
from decodecheck.source import read_bytes

LONGEST = 80
"""Characters of a title; a first line that is longer is cut."""
_FENCED = re.compile(r"\ufeff?(---|\+\+\+)[ \t]*\r?\n(.*?)\r?\n\1[ \t]*(?:\r?\n|\Z)", re.DOTALL)
"""Front matter (common practice, no source): YAML between lines of ---, TOML between lines of +++."""
_TITLE = re.compile(
    r"""^title[ \t]*:[ \t]*(?:"((?:[^"\\]|\\.)*)"|'((?:[^']|'')*)'|(.*?))[ \t]*(?:#.*)?$""", re.MULTILINE
)
HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
PROPERTIES = {".docx": "docProps/core.xml", ".odt": "meta.xml"}
"""The parts that hold the properties of a document (ECMA-376, part 2; OpenDocument 1.3, part 2)."""


def title_of(path: str, document: Document) -> str:
    """The title of a text that was read; "" where it has no line with letters. A file whose title cannot be read goes by its first line."""
    suffix = Path(path).suffix.lower()
    try:
        found = _of_file(path, suffix)
    except (UserError, OSError, ValueError, RecursionError):
        found = ""
    return _tidy(found) or _tidy(next((line for line in document.text.splitlines() if re.search(r"\w", line)), ""))


def _tidy(title: str) -> str:
    return cut(" ".join(title.split()), LONGEST)


def _of_file(path: str, suffix: str) -> str:
    if suffix in (".md", ".markdown"):
        text = read_bytes(path).decode("utf-8-sig")
        return of_front_matter(text) or _of_markdown(text)
    if suffix in (".html", ".htm", ".xhtml"):
        return _of_page(path)
    if suffix in PROPERTIES or suffix == ".epub":
        return _of_properties(path, suffix)
    return ""


def of_front_matter(text: str) -> str:
    """The title in the front matter of a text; "" for none."""
    match = _FENCED.match(text)
    if not match:
        return ""
    if match[1] == "+++":
        try:
            title = tomllib.loads(match[2]).get("title", "")
        except (tomllib.TOMLDecodeError, RecursionError):
            return ""
        return title if isinstance(title, str) else ""
    found = _TITLE.search(match[2])
    if not found:
        return ""
    if found[1] is not None:
        return re.sub(r"\\(.)", r"\1", found[1])
    return found[2].replace("''", "'") if found[2] is not None else found[3]


def _of_markdown(text: str) -> str:
    from decodecheck.documents.markdown_inline import parser

    found = parser().parse(text)
    for before, token in pairwise(found):
        if before.type == "heading_open":
            title = "".join(
                " " if part.type in ("softbreak", "hardbreak") else part.content
                for part in token.children or ()
                if part.type in ("text", "text_special", "code_inline", "softbreak", "hardbreak")
            )
            if title.strip():
                return title
    return ""


def _of_page(path: str) -> str:
    """The first heading of a page, else its title."""
    import html

    from decodecheck.documents.html_tokens import END, RAW, START, TEXT, tokens
    from decodecheck.documents.kinds import page_text
    from decodecheck.source import SourceText

    source = SourceText(path, page_text(path, read_bytes(path)))
    title = heading = inside = ""
    opened = 0
    for token in tokens(source, 0, len(source.text)):
        if token.kind == START and not inside and token.name in (*HEADINGS, "title"):
            inside, heading, opened = token.name, "", token.end
        elif token.kind == END and token.name == inside:
            if inside == "title":
                # what stands in it is no markup, and no token
                title = title or html.unescape(source.text[opened : token.start])
            elif heading.strip():
                return heading
            inside = ""
        elif token.kind in (TEXT, RAW) and inside:
            heading += html.unescape(source.text[token.start : token.end])
    return title


def _of_properties(path: str, suffix: str) -> str:
    """The title among the properties of a document (Dublin Core, dc:title)."""
    from decodecheck.documents.package import Package
    from decodecheck.formats import EPUB, OPEN_DOCUMENT, WORD

    kind = {".docx": WORD, ".odt": OPEN_DOCUMENT, ".epub": EPUB}[suffix]
    package = Package(path, read_bytes(path), kind, "")
    name = PROPERTIES.get(suffix, "")
    if suffix == ".epub":
        from decodecheck.documents.epub_text import book_of

        name = book_of(package)
    root = package.xml(name)
    titles = root.iter("{http://purl.org/dc/elements/1.1/}title") if root is not None else ()
    return next((title.text for title in titles if title.text and title.text.strip()), "")
