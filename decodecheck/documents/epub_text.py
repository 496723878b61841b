"""What is read of an e-book (EPUB 3.3): the chapters in its order of reading, each as a web page is read."""

from __future__ import annotations

import posixpath
from dataclasses import replace
from itertools import pairwise
from urllib.parse import unquote

from decodecheck.documents.allowance import EVERYWHERE, Allowance
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


def read_epub(path: str, data: bytes, alt_text: bool = False) -> Document:
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
        _add(assembly, path, name, chapter, alt_text)
    if not assembly.blocks:
        what = "This e-book holds no text; words inside pictures are not seen."
        raise UserError(Problem(shown(path), what, "Type the words into a plain text file."))
    return assembly.document()


def _add(assembly: Assembly, path: str, name: str, chapter: bytes, alt_text: bool) -> None:
    inside = f"{path}, {name}"
    prose = Prose(SourceText(shown(inside), page_text(inside, chapter)))
    page = HtmlText(prose, alt_text)
    page.feed(0, len(prose.source.text))
    text = prose.finish()
    title = posixpath.basename(name)
    if page.heading:
        start, end = page.heading
        title = cut(" ".join(text[start:end].split())) or title
    notes = prose.notes
    if notes.own_step and assembly.length:
        what = "The step of a book stands before its first word."
        raise UserError(notes.own_step.wanted.problem(what, "Write this comment at the top, or take it out."))
    assembly.own_step = notes.own_step or assembly.own_step
    starts = [*prose.paragraphs, len(text) + len(APART)]
    number = 0
    begun: list[tuple[int, int, Place]] = []
    for start, end in pairwise(starts):
        paragraph = text[start : end - len(APART)]
        if paragraph.strip():
            number += 1
            place = Place(chapter=title, paragraph=number)
            assembly.add([(paragraph, place)])
            begun.append((start, assembly.length - len(paragraph), place))
    assembly.allowances += [_in_book(allowance, begun, assembly.length, title) for allowance in notes.allowances]


def _in_book(allowance: Allowance, begun: list[tuple[int, int, Place]], length: int, title: str) -> Allowance:
    """An allowance of a chapter as one of the book, of which paragraphs have `begun`: where in the chapter, where in the book, at which place.

    What holds for a whole file holds for the chapter: that is a file of its own. It stands with the paragraph that it concerns first.
    """
    after = [entry for entry in begun if entry[0] >= allowance.start] or begun[-1:]
    place = after[0][2] if after else Place(chapter=title, paragraph=1)

    def moved(offset: int) -> int:
        before = [entry for entry in begun if entry[0] <= offset]
        return before[-1][1] + offset - before[-1][0] if before else begun[0][1] if begun else length

    # no byte of a packed file can be taken out, so there are no spans
    end = length if allowance.end == EVERYWHERE else moved(allowance.end)
    place = replace(place, column=1)
    return replace(
        allowance, start=moved(allowance.start), end=end, place=place, end_place=replace(place, column=2), spans=()
    )


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
