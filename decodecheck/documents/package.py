"""The parts of a document that is a zip file, and XML in them, read so that nothing else is fetched and nothing grows.

A document type could define text that grows without end, or that stands in another file: one that defines anything is refused before
lxml sees it.
"""

from __future__ import annotations

from typing import Any
from xml.parsers import expat

from lxml import etree

from decodecheck.documents.kinds import damaged
from decodecheck.documents.package_limits import Limits, Refused, open_package
from decodecheck.errors import Problem, UserError
from decodecheck.formats import Kind
from decodecheck.source import shown

MOST_BYTES = 400_000_000
"""Of all parts, unpacked: pictures are among them, and are not unpacked."""
MOST_OF_A_PART = 60_000_000
"""Bytes of a part that is read; a novel has about ten million."""
DEEPEST = 1_000
"""So many elements may stand in one another."""
MOST_NODES = 1_500_000
"""Elements and attributes of a part; a novel that Word saved has about three hundred thousand."""
_CHUNK = 1 << 16

Element = Any
"""An element of lxml, which has no types of its own."""


class Package:
    """A document that is a zip file. Raises UserError where it is beyond what is read, or damaged."""

    def __init__(self, path: str, data: bytes, kind: Kind, otherwise: str) -> None:
        self.path = path
        self.kind = kind
        self.otherwise = otherwise
        try:
            self._zip = open_package(data, Limits("document", MOST_BYTES, otherwise))
        except Refused as refused:
            raise UserError(Problem(shown(path), *refused.args)) from None
        except Exception:  # zipfile and zlib have errors of several kinds for a damaged file
            raise damaged(path, kind) from None
        self.names = frozenset(self._zip.namelist())

    def part(self, name: str) -> bytes | None:
        """What a part holds; None where there is none of that name. Raises UserError where it cannot be unpacked."""
        if name not in self.names:
            return None
        try:
            info = self._zip.getinfo(name)
            if info.file_size > MOST_OF_A_PART:
                what = f"The text of this document has {info.file_size // 1_000_000} megabytes."
                raise self.refused(what, f"Up to {MOST_OF_A_PART // 1_000_000} are read; {self.otherwise}.")
            return self._zip.read(name)
        except UserError:
            raise
        except Exception:
            raise damaged(self.path, self.kind) from None

    def xml(self, name: str) -> Element | None:
        """The root element of a part; None where there is none of that name. Raises UserError where it is no XML that can be read."""
        data = self.part(name)
        if data is None:
            return None
        self._scan(data)
        parser = etree.XMLParser(
            resolve_entities=False,
            no_network=True,
            load_dtd=False,
            huge_tree=True,
            remove_comments=True,
            remove_pis=True,
        )
        try:
            root = etree.fromstring(data, parser)
        except (etree.XMLSyntaxError, ValueError):
            raise damaged(self.path, self.kind) from None
        # what lxml goes on after in spite of an error may be without a part of its text
        if any(entry.level >= etree.ErrorLevels.ERROR for entry in parser.error_log):
            raise damaged(self.path, self.kind)
        return root

    def must(self, name: str) -> Element:
        """The root element of a part that has to be there. Raises UserError."""
        root = self.xml(name)
        if root is None:
            raise damaged(self.path, self.kind)
        return root

    def refused(self, what: str, todo: str) -> UserError:
        """What is said of this document where it is not read."""
        return UserError(Problem(shown(self.path), what, todo))

    def _too_deep(self) -> UserError:
        what = "Elements of this document stand in one another, deeper than is read."
        return self.refused(what, "Open it and save it again.")

    def _scan(self, data: bytes) -> None:
        """Raises UserError for a part whose document type defines something, for one in which elements stand too deep in one another,
        and for one in too many pieces."""
        depth = nodes = 0

        def start(name: str, attributes: dict[str, str]) -> None:
            nonlocal depth, nodes
            depth += 1
            nodes += 1 + len(attributes)
            if depth > DEEPEST:
                raise self._too_deep()
            if nodes > MOST_NODES:
                what = "The text of this document is in more pieces than are read."
                raise self.refused(what, f"Divide it, or {self.otherwise}.")

        def end(*_: object) -> None:
            nonlocal depth
            depth -= 1

        def document_type(name: str, system: str | None, public: str | None, defines: int) -> None:
            # a type that only names another file is not followed, and harmless
            if defines:
                what = (
                    "This document has a part with a document type that defines names of its own, which are not read."
                )
                raise self.refused(what, "Open it and save it again.")

        parser = expat.ParserCreate()
        parser.StartDoctypeDeclHandler = document_type
        parser.StartElementHandler = start
        parser.EndElementHandler = end
        try:
            for at in range(0, len(data), _CHUNK):
                parser.Parse(data[at : at + _CHUNK], False)
            parser.Parse(b"", True)
        except (expat.ExpatError, ValueError, LookupError):
            raise damaged(self.path, self.kind) from None


def key(element: Element, prefixes: dict[str, str]) -> str:
    """The name of an element with the prefix that is usual for its namespace; "" for one in any other."""
    tag = element.tag
    if not isinstance(tag, str):
        return ""
    space, brace, local = tag[1:].partition("}")
    prefix = prefixes.get(space, "") if brace else ""
    return f"{prefix}:{local}" if prefix else ""
