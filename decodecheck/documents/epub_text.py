"""What is read of an e-book (EPUB 3.3): the chapters in its order of reading, each as a web page is read."""

from __future__ import annotations

import posixpath
from itertools import pairwise
from urllib.parse import unquote

from decodecheck.documents.document import Document, Place
from decodecheck.documents.html_text import HtmlText
from decodecheck.documents.kinds import damaged, page_text
from decodecheck.documents.package import Element, Package
from decodecheck.documents.paragraphs import Assembly
from decodecheck.documents.prose import APART, Prose
from decodecheck.errors import Problem, UserError, cut
from decodecheck.formats import EPUB
from decodecheck.source import SourceText, shown

PAGES = ("application/xhtml+xml", "text/html", "text/x-oeb1-document")
FONTS = ("http://www.idpf.org/2008/embedding", "http://ns.adobe.com/pdf/enc#RC")
"""Ways to lock fonts alone, which leave the text open (EPUB 3.3, section 4.4.5; the second is common practice, no source)."""


def read_epub(path: str, data: bytes) -> Document:
    """The text of a book. Raises UserError where it is locked, damaged, or holds only pictures."""
    package = Package(path, data, EPUB, "save the text alone as .txt")
    _refuse_locked(package)
    root = book_of(package)
    assembly = Assembly(shown(path))
    for name in _chapters(package, root):
        chapter = package.part(name)
        if chapter is None:
            what = f"This e-book names a chapter that is not in it: {cut(name)}."
            raise UserError(Problem(shown(path), what, "Make it again, or copy it anew."))
        _add(assembly, path, name, chapter)
    if not assembly.blocks:
        what = "This e-book holds no text; words inside pictures are not seen."
        raise UserError(Problem(shown(path), what, "Type the words into a plain text file."))
    return assembly.document()


def _add(assembly: Assembly, path: str, name: str, chapter: bytes) -> None:
    inside = f"{path}, {name}"
    prose = Prose(SourceText(shown(inside), page_text(inside, chapter)))
    page = HtmlText(prose)
    page.feed(0, len(prose.source.text))
    text = prose.finish()
    title = posixpath.basename(name)
    if page.heading:
        start, end = page.heading
        title = cut(" ".join(text[start:end].split())) or title
    starts = [*prose.paragraphs, len(text) + len(APART)]
    number = 0
    for start, end in pairwise(starts):
        paragraph = text[start : end - len(APART)]
        if paragraph.strip():
            number += 1
            assembly.add([(paragraph, Place(chapter=title, paragraph=number))])


def _refuse_locked(package: Package) -> None:
    """Raises UserError for a book of which more than fonts is locked."""
    locked = package.xml("META-INF/encryption.xml")
    for element in locked.iter("{*}EncryptedData") if locked is not None else ():
        methods = [method.get("Algorithm", "") for method in element.iter("{*}EncryptionMethod")]
        if not methods or any(method not in FONTS for method in methods):
            what = "This e-book is locked by its seller (DRM)."
            raise package.refused(what, "Ask for a copy that is not, or copy the words into a plain text file.")


def book_of(package: Package) -> str:
    """The name of the part that lists what is in the book."""
    container = package.must("META-INF/container.xml")
    name = next((file.get("full-path", "") for file in container.iter("{*}rootfile")), "")
    if not name:
        raise damaged(package.path, EPUB)
    return posixpath.normpath(unquote(name))


def _chapters(package: Package, book: str) -> list[str]:
    """The names of the pages in the order of reading, without the table of contents."""
    root = package.must(book)
    items: dict[str, Element] = {item.get("id", ""): item for item in root.iter("{*}item")}
    found = []
    for reference in root.iter("{*}itemref"):
        item = items.get(reference.get("idref", ""))
        if item is None:
            raise damaged(package.path, EPUB)
        if item.get("media-type", "") in PAGES and "nav" not in item.get("properties", "").split():
            target = unquote(item.get("href", "").partition("#")[0])
            found.append(posixpath.normpath(posixpath.join(posixpath.dirname(book), target)))
    return list(dict.fromkeys(found))
