"""From a path to a Document, by the reader that the end of its name asks for."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from functools import cache

from decodecheck.documents import readers
from decodecheck.documents.document import Document
from decodecheck.source import read_bytes, suffix_of

Reader = Callable[[str, bytes], Document]
_OTHERWISE = "plain_text"
"""Reads standard input, and files that are named outright whatever the end of their name."""


@cache
def _readers() -> dict[str, Reader]:
    """Every reader by the ends of names that it is for."""
    found: dict[str, Reader] = {}
    for info in pkgutil.iter_modules(readers.__path__):
        module = importlib.import_module(f"{readers.__name__}.{info.name}")
        found |= dict.fromkeys(module.SUFFIXES, module.read)
    return found


@cache
def suffixes() -> tuple[str, ...]:
    """The ends of names of files that are looked for in folders."""
    return tuple(sorted(_readers()))


def read_document(path: str, name: str | None = None) -> Document:
    """The text of a file, `-` for standard input; `name` is that of another file that it stands for.

    Raises UserError where it cannot be read.
    """
    return document_of(name or path, read_bytes(path))


def document_of(name: str, data: bytes) -> Document:
    """The text that some bytes are, read as a file of that name would be; nothing is opened.

    Raises UserError where they cannot be read.
    """
    suffix = "" if name == "-" else suffix_of(name)
    read = _readers().get(suffix) or importlib.import_module(f"{readers.__name__}.{_OTHERWISE}").read
    document: Document = read(name, data)
    return document
