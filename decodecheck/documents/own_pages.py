"""Pages that decodecheck itself wrote: a sheet for the wall or a brief that lies among the texts is no story."""

from __future__ import annotations

from pathlib import Path

from decodecheck.formats import LONGEST_LIST, list_size
from decodecheck.source import suffix_of

NAME = "decodecheck"
GENERATOR = f'<meta name="generator" content="{NAME}">'
"""In the head of every page in HTML."""
AUTHOR = f">{NAME}</dc:creator>"
"""In the properties of every page as a Word document (ECMA-376, part 2, core properties)."""
LOOKED_AT = 2_000
LARGEST = 100_000
"""Bytes of the properties of a document that are looked at."""


def is_own(path: str) -> bool:
    """Whether an ordinary file is such a page; not where it cannot be read."""
    suffix = suffix_of(path)
    try:
        if suffix in (".html", ".htm"):
            with Path(path).open("rb") as file:
                return GENERATOR.encode() in file.read(LOOKED_AT)
        return suffix == ".docx" and AUTHOR.encode() in _properties(path)
    except Exception:  # zipfile and zlib have errors of several kinds; what is wrong is told when the text is read
        return False


def _properties(path: str) -> bytes:
    with Path(path).open("rb") as file:
        file.seek(0, 2)
        file.seek(max(0, file.tell() - (1 << 16) - 22))
        if list_size(file.read()) > LONGEST_LIST:
            return b""
        import zipfile  # slow to load, and most texts are none

        with zipfile.ZipFile(file) as package:
            info = package.getinfo("docProps/core.xml")
            return package.read(info) if info.file_size <= LARGEST else b""
