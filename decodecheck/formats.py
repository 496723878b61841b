"""Files that are no plain text: told by how they begin, named for what they are."""

from __future__ import annotations

import io
import re

PLAIN = "Open it and use Save As, Plain Text, encoding UTF-8."
IN_WORD = "In Word: Save As, Plain Text, Unicode (UTF-8)."
IN_EXCEL = "In Excel: Save As, CSV UTF-8; or copy the words into a plain text file."
COPY = "Copy the words into a plain text file, and save that in UTF-8."
NO_WORDS = "Words inside pictures are not seen. Type them into a plain text file."

BEGINNINGS = (
    (b"%PDF-", "a PDF file", COPY),
    (b"{\\rtf", "a rich text file (RTF)", IN_WORD),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a file of an older Office program (.doc, .xls, .ppt)", PLAIN),
    (b"\x89PNG\r\n\x1a\n", "a picture (PNG)", NO_WORDS),
    (b"\xff\xd8\xff", "a picture (JPEG)", NO_WORDS),
    (b"GIF87a", "a picture (GIF)", NO_WORDS),
    (b"GIF89a", "a picture (GIF)", NO_WORDS),
    (b"II*\0", "a picture (TIFF)", NO_WORDS),
    (b"MM\0*", "a picture (TIFF)", NO_WORDS),
    (b"\x1f\x8b", "a packed file (gzip)", "Unpack it first."),
    (b"7z\xbc\xaf\x27\x1c", "a packed file (7z)", "Unpack it first."),
)
"""How files begin. Source: the published format of each (ISO 32000, RTF 1.9, MS-CFB, PNG, JFIF, GIF89a, TIFF 6.0, RFC 1952,
7-Zip's 7zFormat.txt), from memory."""
PACKED = (
    ("application/epub+zip", "an e-book (EPUB)", COPY),
    ("application/vnd.oasis.opendocument.text", "an OpenDocument text (.odt)", PLAIN),
    ("application/vnd.oasis.opendocument.", "an OpenDocument file", PLAIN),
)
"""What the entry `mimetype` of a zip file says (EPUB OCF 3.3, section 4.3; OpenDocument 1.3, part 2, section 3.3)."""
FOLDERS = (
    ("word/", "a Word document", IN_WORD),
    ("xl/", "an Excel workbook", IN_EXCEL),
    ("ppt/", "a PowerPoint file", COPY),
)
"""The folders of Office Open XML packages (ECMA-376, part 1; the names are common practice)."""
_PAGE = re.compile(r"<(?:!doctype\s+html|html|head|body)\b", re.IGNORECASE)
_DRAWING = re.compile(r"<(?:!doctype\s+)?svg\b", re.IGNORECASE)
LOOKED_AT = 4096
"""Characters at the start that are looked at."""


def known_bytes(data: bytes) -> tuple[str, str] | None:
    """What a file is that is no text, and what to do; None where its first bytes tell nothing."""
    start = data[:LOOKED_AT].removeprefix(b"\xef\xbb\xbf").lstrip()
    for mark, name, todo in BEGINNINGS:
        if start.startswith(mark) or data.startswith(mark):
            return name, todo
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return _packed(data)
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return "a picture (WebP)", NO_WORDS
    if data[4:8] == b"ftyp":
        return "a picture or film", NO_WORDS
    if data.startswith(b"BM") and b"\0" in data[:64]:
        return "a picture (BMP)", NO_WORDS
    return None


def known_text(text: str) -> tuple[str, str] | None:
    """What a text is that is no story or list: a page for a browser, or other markup; None for a plain text."""
    start = text[:LOOKED_AT].lstrip()
    declared = start.startswith("<?xml")
    while start.startswith(("<?", "<!--")):
        # what stands before the first element says nothing of it
        start = start.partition("-->" if start.startswith("<!--") else ">")[2].lstrip()
    if _PAGE.match(start):
        return (
            "a web page (HTML)",
            "Open it in a browser, copy the words into a plain text file, and save that in UTF-8.",
        )
    if _DRAWING.match(start):
        return "a picture (SVG)", NO_WORDS
    if start.startswith("{\\rtf"):
        return "a rich text file (RTF)", IN_WORD
    return ("a file for programs (XML)", COPY) if declared else None


def _packed(data: bytes) -> tuple[str, str]:
    import zipfile  # slow to load, and most files are text

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            names = package.namelist()
            kind = ""
            if "mimetype" in names:
                with package.open("mimetype") as entry:
                    kind = entry.read(200).decode("ascii", "replace")
    except Exception:  # zipfile raises what it likes for a damaged file
        return "a packed file (zip), and it is damaged", "Unpack it first."
    for mark, name, todo in PACKED:
        if kind.startswith(mark):
            return name, todo
    for mark, name, todo in FOLDERS:
        if any(n.startswith(mark) for n in names):
            return name, todo
    return "a packed file (zip)", "Unpack it first."
