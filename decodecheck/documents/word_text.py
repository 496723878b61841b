"""What is read of a Word document (ECMA-376, Office Open XML, part 1, WordprocessingML): its paragraphs as they read.

Headers, footers and comments are other parts, and not looked at. Kept are insertions, notes, text boxes (once), tables, content
controls; left out are deletions, what was moved away, the codes of fields, hidden text, formulas.
"""

from __future__ import annotations

import posixpath
from dataclasses import dataclass

from lxml import etree

from decodecheck.documents.package import Element, Package, key
from decodecheck.documents.paragraphs import Assembly, Paragraph, is_not_read

_MAIN = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
PREFIXES = {
    _MAIN: "w",
    "http://purl.oclc.org/ooxml/wordprocessingml/main": "w",
    "http://schemas.openxmlformats.org/markup-compatibility/2006": "mc",
    "http://schemas.openxmlformats.org/officeDocument/2006/math": "m",
    "http://purl.oclc.org/ooxml/officeDocument/math": "m",
    "http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing": "wp",
    "http://purl.oclc.org/ooxml/drawingml/wordprocessingDrawing": "wp",
}
"""The namespaces of both forms of the standard, transitional and strict."""
SKIPPED = frozenset(
    ("w:del", "w:moveFrom", "w:instrText", "w:delText", "w:delInstrText", "w:pPr", "w:rPr", "w:tblPr", "w:trPr", "w:tcPr", "w:sectPr", "w:rt",
     "w:sdtPr", "m:oMath", "m:oMathPara")
)  # fmt: skip
"""Elements in which no text is read."""
SIGNS = {
    "w:tab": "\t",
    "w:ptab": "\t",
    "w:cr": "\n",
    "w:noBreakHyphen": "\u2011",
    "w:softHyphen": "\u00ad",
    "w:sym": " ",
}
ELSEWHERE = ("w:altChunk", "w:subDoc")
"""Text that stands in another file, of another format."""
OFF = ("0", "false", "off")
NOTES = {"footnotes": "w:footnoteReference", "endnotes": "w:endnoteReference"}
"""Parts with notes, by the end of the type of relation that leads to them, and what refers to a note."""


@dataclass(frozen=True, slots=True)
class _Style:
    name: str
    base: str
    hidden: bool | None


class _Styles:
    """The styles of a document by their identifiers."""

    def __init__(self, root: Element | None) -> None:
        self.styles: dict[str, _Style] = {}
        self.known: dict[str, tuple[bool, bool]] = {}
        for element in root if root is not None else ():
            if _key(element) == "w:style":
                name = _value(_child(element, "w:name"))
                base = _value(_child(element, "w:basedOn"))
                self.styles[_get(element, "styleId")] = _Style(name, base, _hidden(_child(element, "w:rPr")))

    def of(self, identifier: str) -> tuple[bool, bool]:
        """Whether a style, or one that it builds on, is for what is not read, and whether it hides text."""
        if identifier not in self.known:
            seen: dict[str, _Style] = {}
            at = identifier
            while at in self.styles and at not in seen:
                seen[at] = self.styles[at]
                at = seen[at].base
            hidden = next((s.hidden for s in seen.values() if s.hidden is not None), False)
            self.known[identifier] = any(is_not_read(s.name) for s in seen.values()), hidden
        return self.known[identifier]

    def leaves_out(self, identifier: str) -> bool:
        """Whether text of a style is not read."""
        return any(self.of(identifier))


class WordText:
    """The text of a document."""

    def __init__(self, package: Package, alt_text: bool = False) -> None:
        self.package = package
        self.alt_text = alt_text
        main = self._related("", "officeDocument") or "word/document.xml"
        self.main = package.must(main)
        self.styles = _Styles(package.xml(self._related(main, "styles") or "word/styles.xml"))
        self.rendered = next(self.main.iter(*_names("lastRenderedPageBreak")), None) is not None
        """Whether the program that saved the document says where its pages begin."""
        self.notes: dict[tuple[str, str], list[Paragraph]] = {}
        found: dict[tuple[str, str], list[Paragraph]] = {}
        for part, reference in NOTES.items():
            root = package.xml(self._related(main, part) or f"word/{part}.xml")
            for note in root if root is not None else ():
                if _get(note, "type") in ("", "normal"):
                    found[reference, _get(note, "id")] = _Walk(self, 0).paragraphs(note)
        self.notes = found

    def add_to(self, assembly: Assembly) -> None:
        """All paragraphs, in order. Raises UserError for a document with text in another format inside."""
        breaks = self.rendered or any(
            _get(e, "type") == "page" or _key(e) == "w:pageBreakBefore"
            for e in self.main.iter(*_names("br", "pageBreakBefore"))
        )
        assembly.add_all(_Walk(self, int(breaks)).paragraphs(self.main))

    def _related(self, part: str, kind: str) -> str:
        """The part that another one names as its main part, its styles, its notes; "" where it names none."""
        folder, name = posixpath.split(part)
        root = self.package.xml(posixpath.join(folder, "_rels", f"{name}.rels"))
        for relation in root if root is not None else ():
            if relation.get("Type", "").endswith(f"/{kind}") and relation.get("TargetMode") != "External":
                return posixpath.normpath(posixpath.join("/", folder, relation.get("Target", ""))).lstrip("/")
        return ""


class _Walk:
    """One way through the elements of a part."""

    def __init__(self, text: WordText, page: int) -> None:
        self.text = text
        self.page = page
        self.open: list[Paragraph] = []
        self.done: list[Paragraph] = []
        self.fields: list[bool] = []
        """Of each open field, whether this is its code."""
        self.runs_left_out = 0

    def paragraphs(self, root: Element) -> list[Paragraph]:
        """The paragraphs of an element, in order."""
        walk = etree.iterwalk(root, events=("start", "end"))
        joined: Paragraph | None = None
        for event, element in walk:
            name = _key(element)
            if event == "end":
                if name == "w:p" and self.open:
                    paragraph = self.open.pop()
                    if _mark_deleted(element) and not self.open:
                        joined = paragraph  # the next one goes on in the same line
                elif name == "w:r":
                    self.runs_left_out -= self._run_left_out(element)
                continue
            if name in SKIPPED or (name in ("mc:Choice", "mc:Fallback") and element.getprevious() is not None):
                walk.skip_subtree()
            elif name == "w:p":
                self._begin(element, joined)
                joined = None
            elif name == "w:sdt" and _child(_child(element, "w:sdtPr"), "w:showingPlcHdr") is not None:
                walk.skip_subtree()
            elif name == "w:r":
                self.runs_left_out += self._run_left_out(element)
            elif name in ELSEWHERE:
                what = "This document takes in another file, which is not read."
                raise self.text.package.refused(what, "Open it in Word and save it again, or take that file out.")
            elif self.open:
                self._inside(name, element)
        if self.fields:
            what = "A field of this document is opened and not closed; it hides what follows."
            raise self.text.package.refused(what, "Open it in Word and save it again.")
        return self.done

    def _begin(self, element: Element, joined: Paragraph | None) -> None:
        properties = _child(element, "w:pPr")
        if self.page and not self.text.rendered and _on(_child(properties, "w:pageBreakBefore")):
            self.page += bool(self.done)
        if joined is not None and not self.open:
            self.open.append(joined)
            return
        paragraph = Paragraph(left_out=self.text.styles.leaves_out(_value(_child(properties, "w:pStyle"))))
        if self.open:
            paragraph.left_out |= self.open[-1].left_out or self.runs_left_out > 0
            self.open[0].beside.append(paragraph)
        else:
            self.done.append(paragraph)
        self.open.append(paragraph)

    def _inside(self, name: str, element: Element) -> None:
        """An element in a paragraph."""
        paragraph = self.open[-1]
        if name == "w:fldChar":
            kind = _get(element, "fldCharType")
            if kind == "begin":
                self.fields.append(True)
            elif self.fields and kind == "separate":
                self.fields[-1] = False
            elif self.fields and kind == "end":
                self.fields.pop()
        elif name == "w:lastRenderedPageBreak":
            self.page += 1
        elif name == "w:br":
            if _get(element, "type") == "page":
                self.page += self.page > 0 and not self.text.rendered
            self._say("\n")
        elif name == "w:t":
            self._say(element.text or "")
        elif name in SIGNS:
            self._say(SIGNS[name])
        elif name == "wp:docPr":
            self._picture(element.get("descr", ""))
        elif name in NOTES.values() and not (paragraph.left_out or self.runs_left_out):
            # each once: notes that refer to one another would make a text without end
            self.open[0].beside += self.text.notes.pop((name, _get(element, "id")), [])

    def _picture(self, description: str) -> None:
        """What is written for those who do not see a picture: a paragraph beside the one that the picture stands in."""
        if self.text.alt_text and not (self.open[-1].left_out or self.runs_left_out):
            self.open[0].beside.append(Paragraph([(description, self.page)]))

    def _say(self, text: str) -> None:
        paragraph = self.open[-1]
        if not (paragraph.left_out or self.runs_left_out or any(self.fields)):
            paragraph.add(text, self.page)

    def _run_left_out(self, run: Element) -> bool:
        """Whether a run is hidden, or of a style that is not read."""
        properties = _child(run, "w:rPr")
        if properties is None:
            return False
        hidden = _hidden(properties)
        not_read, style_hides = self.text.styles.of(_value(_child(properties, "w:rStyle")))
        return not_read or (style_hides if hidden is None else hidden)


def _key(element: Element) -> str:
    return key(element, PREFIXES)


def _names(*locals_: str) -> list[str]:
    return [f"{{{space}}}{local}" for space, prefix in PREFIXES.items() if prefix == "w" for local in locals_]


def _child(element: Element | None, name: str) -> Element | None:
    return next((child for child in element if _key(child) == name), None) if element is not None else None


def _get(element: Element | None, local: str) -> str:
    """An attribute in either form of the standard, "" where there is none."""
    if element is None:
        return ""
    return next((element.get(name) for name in _names(local) if element.get(name) is not None), "")


def _value(element: Element | None) -> str:
    return _get(element, "val")


def _on(element: Element | None) -> bool:
    """Whether a property that is on or off is on."""
    return element is not None and _value(element) not in OFF


def _hidden(properties: Element | None) -> bool | None:
    """Whether properties of a run hide it; None where they say nothing of that."""
    vanish = _child(properties, "w:vanish")
    return None if vanish is None else _on(vanish)


def _mark_deleted(paragraph: Element) -> bool:
    """Whether the end of a paragraph is a tracked deletion."""
    return _child(_child(_child(paragraph, "w:pPr"), "w:rPr"), "w:del") is not None
