"""Whether a file is of the kind that the end of its name says, by how it begins."""

from __future__ import annotations

import codecs
import re

from decodecheck.errors import Problem, UserError
from decodecheck.formats import DAMAGED, WEB_PAGE, Kind, known_bytes, known_text
from decodecheck.source import characters, shown

PLAIN_TEXT = Kind("a plain text", "", suffix=".txt")
MARKDOWN = Kind("a text in Markdown", "", suffix=".md")
LARGEST = {MARKDOWN.name: 10_000_000, WEB_PAGE.name: 50_000_000}
"""Bytes of texts with markup, which take longer to read than plain ones."""
LOOKED_AT = 1024
"""Bytes in which a page says how its characters are stored (HTML standard, section 4.2.5.4, from memory)."""
_CHARSET = re.compile(
    rb"""<\?xml[^>]*\bencoding\s*=\s*["']([\w.:-]+)|<meta\b[^>]*\bcharset\s*=\s*["']?\s*([\w.:-]+)""", re.IGNORECASE
)
_AS_WINDOWS = ("ascii", "iso8859-1", "latin-1", "cp1252")
"""Names under which pages are stored in Windows-1252 (Encoding standard, section 4.2, from memory)."""


def text_of(path: str, data: bytes, own: Kind) -> str:
    """The characters of a text. Raises UserError for a file of another kind than `own`, and for what is no text."""
    _refuse(path, known_bytes(data), own)
    _refuse_large(path, data, own)
    text = characters(data, shown(path))
    _refuse(path, known_text(text), own)
    return text


def page_text(path: str, data: bytes) -> str:
    """The characters of a web page, which may say itself how they are stored. Raises UserError as `text_of` does."""
    _refuse(path, known_bytes(data), WEB_PAGE)
    _refuse_large(path, data, WEB_PAGE)
    encoding = _declared(data)
    if encoding:
        try:
            text = data.decode(encoding)
        except (UnicodeError, ValueError):
            what = f"This page says that it is stored as {encoding}, and is not."
            raise UserError(Problem(shown(path), what, "Save it again in UTF-8.")) from None
        # a character that no text has is told as in any other
        text = characters(text.encode("utf-8", "surrogatepass"), shown(path))
    else:
        text = characters(data, shown(path))
    _refuse(path, known_text(text), WEB_PAGE)
    return text


def expect(path: str, data: bytes, own: Kind) -> None:
    """Raises UserError for a file that is of another kind than its name says."""
    known = known_bytes(data)
    if known is None:
        try:
            known = known_text(characters(data, shown(path))) or PLAIN_TEXT
        except UserError:
            raise damaged(path, own) from None
    if known is DAMAGED:
        raise damaged(path, own)
    _refuse(path, known, own)


def damaged(path: str, own: Kind) -> UserError:
    """What is said of a file that is not whole, or not of its kind at all."""
    what = f"This is no {_bare(own)}, or it is damaged."
    return UserError(Problem(shown(path), what, "Open it and save it again, or copy it anew."))


def _refuse(path: str, known: Kind | None, own: Kind) -> None:
    if known is None or known.name == own.name:
        return
    if known.locked:
        raise UserError(Problem(shown(path), f"This is {known.name}.", known.todo))
    todo = known.as_text or known.todo
    if known.suffix:
        todo = f"Let its name end in {known.suffix}, and it is read."
        if path == "-":
            todo = f"Say so with a name: --stdin-name story{known.suffix}."
    raise UserError(Problem(shown(path), f"This is {known.name}, and no {_bare(own)}.", todo))


def _refuse_large(path: str, data: bytes, own: Kind) -> None:
    most = LARGEST.get(own.name)
    if most is not None and len(data) > most:
        what = f"This is too large to be read: more than {most // 1_000_000} megabytes."
        raise UserError(Problem(shown(path), what, "Divide it, or leave it out."))


def _bare(kind: Kind) -> str:
    return kind.name.partition(" ")[2]


def _declared(data: bytes) -> str:
    """The encoding that a page names for itself; "" for UTF-8, and where it names none that is known."""
    if data.startswith((codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return ""
    match = _CHARSET.search(data, 0, LOOKED_AT)
    if not match:
        return ""
    try:
        known = codecs.lookup((match[1] or match[2]).decode("ascii")).name
        b"a".decode(known)
    except (LookupError, UnicodeError, ValueError):
        return ""
    if known in _AS_WINDOWS:
        return "cp1252"
    # what names UTF-16 in letters of one byte is stored in none of its forms
    return "" if known.startswith("utf") else known
