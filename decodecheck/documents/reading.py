"""From a path to a Document, by the reader that the end of its name asks for."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from types import ModuleType

from decodecheck.documents import readers
from decodecheck.documents.document import Document
from decodecheck.source import read_bytes, suffix_of

_OTHERWISE = "plain_text"
"""Reads standard input, and files that are named outright whatever the end of their name."""


@cache
def _readers() -> dict[str, ModuleType]:
    """Every reader by the ends of names that it is for."""
    found: dict[str, ModuleType] = {}
    for info in pkgutil.iter_modules(readers.__path__):
        module = importlib.import_module(f"{readers.__name__}.{info.name}")
        found |= dict.fromkeys(module.SUFFIXES, module)
    return found


@cache
def suffixes() -> tuple[str, ...]:
    """The ends of names of files that are looked for in folders."""
    return tuple(sorted(_readers()))


def read_document(path: str, name: str | None = None, *, alt_text: bool = False) -> Document:
    """The text of a file, `-` for standard input; `name` is that of another file that it stands for. With `alt_text`, what is written for those who
    do not see a picture belongs to the text, in the formats that have it.

    Raises UserError where it cannot be read.
    """
    return document_of(name or path, read_bytes(path), alt_text=alt_text)


def document_of(name: str, data: bytes, *, alt_text: bool = False) -> Document:
    """The text that some bytes are, read as a file of that name would be; nothing is opened.

    Raises UserError where they cannot be read.
    """
    suffix = "" if name == "-" else suffix_of(name)
    reader = _readers().get(suffix) or importlib.import_module(f"{readers.__name__}.{_OTHERWISE}")
    more = {"alt_text": True} if alt_text and getattr(reader, "ALT_TEXT", False) else {}
    document: Document = reader.read(name, data, **more)
    return document
