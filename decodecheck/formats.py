"""Files that are no plain text: told by how they begin, named for what they are."""

from __future__ import annotations

import io
import re
import struct
from typing import NamedTuple

PLAIN = "Open it and use Save As, Plain Text, encoding UTF-8."
IN_WORD = "In Word: Save As, Plain Text, Unicode (UTF-8)."
IN_EXCEL = "In Excel: Save As, CSV UTF-8; or copy the words into a plain text file."
AS_WORD = "Open it and use Save As, Word Document (.docx)."
UNLOCK = "Open it, take the password out, and save it again."
COPY = "Copy the words into a plain text file, and save that in UTF-8."
NO_WORDS = "Words inside pictures are not seen. Type them into a plain text file."


class Kind(NamedTuple):
    """What a file is that is no plain text: its name; what to do where plain text is needed; what to do with it as a text to be
    checked, "" for the same; the end of name under which it is read as a text; whether it is a text that nobody can read without a
    password."""

    name: str
    todo: str
    as_text: str = ""
    suffix: str = ""
    locked: bool = False


WORD = Kind("a Word document", IN_WORD, suffix=".docx")
OPEN_DOCUMENT = Kind("an OpenDocument text (.odt)", PLAIN, suffix=".odt")
EPUB = Kind("an e-book (EPUB)", COPY, suffix=".epub")
PDF = Kind("a PDF file", COPY, suffix=".pdf")
WEB_PAGE = Kind(
    "a web page (HTML)",
    "Open it in a browser, copy the words into a plain text file, and save that in UTF-8.",
    suffix=".html",
)
RICH_TEXT = Kind("a rich text file (RTF)", IN_WORD, AS_WORD)
OLDER_OFFICE = Kind("a file of an older Office program (.doc, .xls, .ppt)", PLAIN, AS_WORD)
LOCKED_OFFICE = Kind("a file of an Office program that is locked with a password", UNLOCK, locked=True)
DAMAGED = Kind("a packed file (zip), and it is damaged", "Unpack it first.", "Save it again, or copy it anew.")
CROWDED = Kind("a packed file (zip) with more parts than are read", "Unpack it first.")
PACKED = Kind("a packed file (zip)", "Unpack it first.")
BEGINNINGS = (
    (b"%PDF-", PDF),
    (b"{\\rtf", RICH_TEXT),
    (b"\x89PNG\r\n\x1a\n", Kind("a picture (PNG)", NO_WORDS)),
    (b"\xff\xd8\xff", Kind("a picture (JPEG)", NO_WORDS)),
    (b"GIF87a", Kind("a picture (GIF)", NO_WORDS)),
    (b"GIF89a", Kind("a picture (GIF)", NO_WORDS)),
    (b"II*\0", Kind("a picture (TIFF)", NO_WORDS)),
    (b"MM\0*", Kind("a picture (TIFF)", NO_WORDS)),
    (b"\x1f\x8b", Kind("a packed file (gzip)", "Unpack it first.")),
    (b"7z\xbc\xaf\x27\x1c", Kind("a packed file (7z)", "Unpack it first.")),
)
"""How files begin. Source: the published format of each (ISO 32000, RTF 1.9, PNG, JFIF, GIF89a, TIFF 6.0, RFC 1952, 7-Zip's
7zFormat.txt), from memory."""
COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How older Office files begin, and those that are locked with a password (MS-CFB, from memory)."""
LOCKED_PART = "EncryptedPackage".encode("utf-16-le")
"""The name of a part that only a file locked with a password has (MS-OFFCRYPTO, section 2.3.4, from memory)."""
MIMETYPES = (
    ("application/epub+zip", EPUB),
    ("application/vnd.oasis.opendocument.text", OPEN_DOCUMENT),
    ("application/vnd.oasis.opendocument.", Kind("an OpenDocument file", PLAIN)),
)
"""What the entry `mimetype` of a zip file says (EPUB OCF 3.3, section 4.3; OpenDocument 1.3, part 2, section 3.3)."""
FOLDERS = (
    ("word/", WORD),
    ("xl/", Kind("an Excel workbook", IN_EXCEL)),
    ("ppt/", Kind("a PowerPoint file", COPY)),
)
"""The folders of Office Open XML packages (ECMA-376, part 1; the names are common practice)."""
_PAGE = re.compile(r"<(?:!doctype\s+html|html|head|body)\b", re.IGNORECASE)
_DRAWING = re.compile(r"<(?:!doctype\s+)?svg\b", re.IGNORECASE)
LONGEST_LIST = 1_000_000
"""Bytes of the list of parts of a zip file that is looked at: zipfile makes an object of each entry before anybody can ask how many
there are."""
_LONGEST_END = 22 + (1 << 16)
"""Bytes of the record at the end of a zip file, with its comment (APPNOTE.TXT, section 4.3.16, from memory)."""
LOOKED_AT = 4096
"""Characters at the start that are looked at."""


def known_bytes(data: bytes) -> Kind | None:
    """What a file is that is no text; None where its first bytes tell nothing."""
    start = data[:LOOKED_AT].removeprefix(b"\xef\xbb\xbf").lstrip()
    for mark, kind in BEGINNINGS:
        if start.startswith(mark) or data.startswith(mark):
            return kind
    if data.startswith(COMPOUND):
        return LOCKED_OFFICE if LOCKED_PART in data else OLDER_OFFICE
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return _packed(data)
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return Kind("a picture (WebP)", NO_WORDS)
    if data[4:8] == b"ftyp":
        return Kind("a picture or film", NO_WORDS)
    if data.startswith(b"BM") and b"\0" in data[:64]:
        return Kind("a picture (BMP)", NO_WORDS)
    return None


def known_text(text: str) -> Kind | None:
    """What a text is that is no story or list: a page for a browser, or other markup; None for a plain text."""
    start = text[:LOOKED_AT].lstrip()
    declared = start.startswith("<?xml")
    while start.startswith(("<?", "<!--")):
        # what stands before the first element says nothing of it
        start = start.partition("-->" if start.startswith("<!--") else ">")[2].lstrip()
    if _PAGE.match(start):
        return WEB_PAGE
    if _DRAWING.match(start):
        return Kind("a picture (SVG)", NO_WORDS)
    if start.startswith("{\\rtf"):
        return RICH_TEXT
    return Kind("a file for programs (XML)", COPY) if declared else None


def list_size(data: bytes) -> int:
    """Bytes of the list of parts that a zip file has at its end; 0 where there is none to be found."""
    end = data.rfind(b"PK\x05\x06", max(0, len(data) - _LONGEST_END))
    return int(struct.unpack_from("<L", data, end + 12)[0]) if 0 <= end <= len(data) - 22 else 0


def _packed(data: bytes) -> Kind:
    import zipfile  # slow to load, and most files are text

    if list_size(data) > LONGEST_LIST:
        return CROWDED
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            names = package.namelist()
            kind = ""
            if "mimetype" in names:
                with package.open("mimetype") as entry:
                    kind = entry.read(200).decode("ascii", "replace")
    except Exception:  # zipfile raises what it likes for a damaged file
        return DAMAGED
    for mark, known in MIMETYPES:
        if kind.startswith(mark):
            return known
    for mark, known in FOLDERS:
        if any(n.startswith(mark) for n in names):
            return known
    return PACKED
