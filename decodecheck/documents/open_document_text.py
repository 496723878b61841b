"""What is read of an OpenDocument text (OpenDocument 1.3, part 3): its paragraphs as they read.

Headers and footers stand with the styles of pages, and are not looked at. Kept are insertions, notes, text boxes, tables, content
controls; left out are deletions, comments, hidden text, descriptions of pictures.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from lxml import etree

from decodecheck.documents.package import Element, Package, key
from decodecheck.documents.paragraphs import Assembly, Paragraph, is_not_read

_SPACE = "urn:oasis:names:tc:opendocument:xmlns:{}:1.0"
PREFIXES = {_SPACE.format(name): name for name in ("office", "text", "table", "style", "form", "manifest")} | {
    _SPACE.format("drawing"): "draw",
    _SPACE.format("svg-compatible"): "svg",
    _SPACE.format("xsl-fo-compatible"): "fo",
    "http://www.w3.org/1998/Math/MathML": "math",
}
_NAMES = {prefix: f"{{{space}}}" for space, prefix in PREFIXES.items()}
SKIPPED = frozenset(
    ("text:tracked-changes", "text:note-citation", "text:ruby-text", "text:number", "text:page-number", "text:placeholder", "text:script",
     "office:annotation", "office:annotation-end", "office:forms", "office:scripts", "office:event-listeners", "svg:title", "svg:desc",
     "math:math", "text:sequence-decls", "text:variable-decls", "text:user-field-decls")
)  # fmt: skip
"""Elements in which no text is read."""
DESCRIPTIONS = ("svg:title", "svg:desc")
"""What is written for those who do not see a picture."""
SIGNS = {"text:tab": "\t", "text:line-break": "\n", "text:s": " "}
PARAGRAPHS = ("text:p", "text:h")
HIDDEN = ("text:hidden-text", "text:hidden-paragraph")
_BLANKS = re.compile(r"[ \t\r\n]+")


@dataclass(frozen=True, slots=True)
class _Style:
    name: str
    base: str
    hidden: bool | None
    new_page: bool


class _Styles:
    """The styles of a document by family and name."""

    def __init__(self, *roots: Element | None) -> None:
        self.styles: dict[tuple[str, str], _Style] = {}
        self.known: dict[tuple[str, str], bool] = {}
        for root in roots:
            for element in root.iter(_NAMES["style"] + "style") if root is not None else ():
                name = _get(element, "style:name")
                text, own = (_child(element, f"style:{part}-properties") for part in ("text", "paragraph"))
                display = _get(text, "text:display")
                self.styles[_get(element, "style:family"), name] = _Style(
                    _get(element, "style:display-name") or name,
                    _get(element, "style:parent-style-name"),
                    display == "none" if display else None,
                    _get(own, "fo:break-before") == "page" or bool(_get(element, "style:master-page-name")),
                )

    def leaves_out(self, family: str, name: str) -> bool:
        """Whether a style, or one that it builds on, hides text or is for what is not read."""
        if (family, name) not in self.known:
            found = self._line(family, name)
            hidden = next((s.hidden for s in found if s.hidden is not None), False)
            self.known[family, name] = hidden or any(is_not_read(s.name) for s in found)
        return self.known[family, name]

    def new_page(self, name: str) -> bool:
        """Whether a paragraph of a style begins a page."""
        style = self.styles.get(("paragraph", name))
        return style is not None and style.new_page

    def _line(self, family: str, name: str) -> list[_Style]:
        seen: dict[str, _Style] = {}
        while (family, name) in self.styles and name not in seen:
            seen[name] = self.styles[family, name]
            name = seen[name].base
        return list(seen.values())


class OpenDocumentText:
    """The text of a document. Raises UserError for one that is locked."""

    def __init__(self, package: Package, alt_text: bool = False) -> None:
        self.package = package
        self.alt_text = alt_text
        manifest = package.xml("META-INF/manifest.xml")
        if manifest is not None and next(manifest.iter(_NAMES["manifest"] + "encryption-data"), None) is not None:
            raise package.refused(
                "This document is locked with a password.", "Open it, take the password out, and save it again."
            )
        content = package.must("content.xml")
        self.styles = _Styles(package.xml("styles.xml"), content)
        body = next(content.iter(_NAMES["office"] + "text"), None)
        if body is None:
            raise package.refused("This document holds no text.", "Save it as a text document (.odt).")
        self.body = body

    def add_to(self, assembly: Assembly) -> None:
        """All paragraphs, in order."""
        breaks = next(self.body.iter(_NAMES["text"] + "soft-page-break"), None) is not None or any(
            self.styles.new_page(_get(e, "text:style-name"))
            for e in self.body.iter(*(_NAMES["text"] + name for name in ("p", "h")))
        )
        assembly.add_all(_Walk(self.styles, int(breaks), self.alt_text).paragraphs(self.body))


class _Walk:
    """One way through the elements of a document."""

    def __init__(self, styles: _Styles, page: int, alt_text: bool) -> None:
        self.styles = styles
        self.alt_text = alt_text
        self.page = page
        self.open: list[Paragraph] = []
        self.done: list[Paragraph] = []
        self.left_out = 0
        """How many open elements are hidden."""

    def paragraphs(self, root: Element) -> list[Paragraph]:
        """The paragraphs of an element, in order."""
        walk = etree.iterwalk(root, events=("start", "end"))
        for event, element in walk:
            name = _key(element)
            if event == "end":
                self._end(name, element)
            elif name in SKIPPED:
                if (
                    name in DESCRIPTIONS
                    and self.alt_text
                    and self.open
                    and not (self.open[-1].left_out or self.left_out)
                ):
                    self.open[0].beside.append(Paragraph([(_BLANKS.sub(" ", element.text or ""), self.page)]))
                walk.skip_subtree()
            else:
                self._start(name, element)
        return self.done

    def _start(self, name: str, element: Element) -> None:
        if name in PARAGRAPHS:
            self._begin(element)
        elif name in ("text:span", "text:a"):
            self.left_out += self._hides(element)
        elif name in HIDDEN:
            self._hide(name, element)
        elif name == "text:soft-page-break":
            self.page += 1
        elif name in SIGNS:
            # many blanks in a row are one for the reader
            self._say(SIGNS[name])
        if element.text:
            self._say(_BLANKS.sub(" ", element.text))

    def _end(self, name: str, element: Element) -> None:
        if name in PARAGRAPHS and self.open:
            self.open.pop()
        elif name in ("text:span", "text:a"):
            self.left_out -= self._hides(element)
        elif name == "text:hidden-text":
            self.left_out -= _is_hidden(element)
        if element.tail:
            self._say(_BLANKS.sub(" ", element.tail))

    def _begin(self, element: Element) -> None:
        style = _get(element, "text:style-name")
        if self.page and not self.open and self.done and self.styles.new_page(style):
            self.page += 1
        paragraph = Paragraph(left_out=self.styles.leaves_out("paragraph", style))
        if self.open:
            paragraph.left_out |= self.open[-1].left_out or self.left_out > 0
            self.open[0].beside.append(paragraph)
        else:
            self.done.append(paragraph)
        self.open.append(paragraph)

    def _hides(self, span: Element) -> bool:
        return self.styles.leaves_out("text", _get(span, "text:style-name"))

    def _hide(self, name: str, element: Element) -> None:
        """Follow a field that hides its text, or the paragraph it stands in."""
        if name == "text:hidden-text":
            self.left_out += _is_hidden(element)
        elif _is_hidden(element) and self.open:
            self.open[-1].left_out = True
            self.open[-1].pieces.clear()

    def _say(self, text: str) -> None:
        if self.open and not (self.open[-1].left_out or self.left_out):
            self.open[-1].add(text, self.page)


def _key(element: Element) -> str:
    return key(element, PREFIXES)


def _child(element: Element, name: str) -> Element | None:
    return next((child for child in element if _key(child) == name), None)


def _get(element: Element | None, name: str) -> str:
    prefix, _, local = name.partition(":")
    return (element.get(_NAMES[prefix] + local) or "") if element is not None else ""


def _is_hidden(field: Element) -> bool:
    return _get(field, "text:is-hidden") == "true"
