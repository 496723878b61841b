"""Documents made part by part, as the published formats have them: ECMA-376, OpenDocument 1.3, EPUB 3.3, ISO 32000-1."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence

W = (
    'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" '
    'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" '
    'xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math" '
    'xmlns:wps="http://schemas.microsoft.com/office/word/2010/wordprocessingShape" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" '
    'xmlns:v="urn:schemas-microsoft-com:vml"'
)
RELATION = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
ODF = " ".join(
    f'xmlns:{prefix}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
    for prefix, name in [
        ("office", "office"), ("text", "text"), ("table", "table"), ("style", "style"), ("draw", "drawing"),
        ("svg", "svg-compatible"), ("fo", "xsl-fo-compatible"), ("manifest", "manifest"),
    ]
)  # fmt: skip
XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


def package(parts: dict[str, str | bytes]) -> bytes:
    """A zip file of parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, part in parts.items():
            made.writestr(name, part)
    return out.getvalue()


def parts_of(data: bytes) -> dict[str, str | bytes]:
    """The parts of a zip file."""
    with zipfile.ZipFile(io.BytesIO(data)) as old:
        return {name: old.read(name) for name in old.namelist()}


def p(*runs: str, style: str = "", more: str = "") -> str:
    """A paragraph of a Word document; a run that is no XML is text."""
    properties = (f'<w:pStyle w:val="{style}"/>' if style else "") + more
    return f"<w:p>{f'<w:pPr>{properties}</w:pPr>' if properties else ''}{''.join(map(r, runs))}</w:p>"


def r(text: str, properties: str = "") -> str:
    """A run of a Word document."""
    if text.startswith("<"):
        return text
    shaped = f"<w:rPr>{properties}</w:rPr>" if properties else ""
    return f'<w:r>{shaped}<w:t xml:space="preserve">{text}</w:t></w:r>'


def docx(
    body: str, *, styles: str = "", footnotes: str = "", endnotes: str = "", head: str = "", spaces: str = W
) -> bytes:
    """A Word document."""
    parts: dict[str, str | bytes] = {
        "[Content_Types].xml": f'{XML}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>',
        "_rels/.rels": f'{XML}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        f'<Relationship Id="r1" Type="{RELATION}/officeDocument" Target="word/document.xml"/></Relationships>',
        "word/document.xml": f"{XML}{head}<w:document {spaces}><w:body>{body}</w:body></w:document>",
        "word/header1.xml": f"{XML}<w:hdr {spaces}>{p('header')}</w:hdr>",
        "word/comments.xml": f"{XML}<w:comments {spaces}><w:comment>{p('comment')}</w:comment></w:comments>",
    }
    if styles:
        parts["word/styles.xml"] = f"{XML}<w:styles {spaces}>{styles}</w:styles>"
    for name, notes in (("footnote", footnotes), ("endnote", endnotes)):
        if notes:
            separator = f'<w:{name} w:type="separator" w:id="-1">{p("separator")}</w:{name}>'
            parts[f"word/{name}s.xml"] = f"{XML}<w:{name}s {spaces}>{separator}{notes}</w:{name}s>"
    return package(parts)


def odt(body: str, *, automatic: str = "", styles: str = "", manifest: str = "", head: str = "") -> bytes:
    """An OpenDocument text."""
    return package(
        {
            "mimetype": "application/vnd.oasis.opendocument.text",
            "content.xml": f"{XML}{head}<office:document-content {ODF}><office:automatic-styles>{automatic}</office:automatic-styles>"
            f"<office:body><office:text>{body}</office:text></office:body></office:document-content>",
            "styles.xml": f"{XML}<office:document-styles {ODF}><office:styles>{styles}</office:styles><office:master-styles>"
            "<style:master-page><style:header><text:p>header</text:p></style:header></style:master-page></office:master-styles>"
            "</office:document-styles>",
            "META-INF/manifest.xml": f"{XML}<manifest:manifest {ODF}><manifest:file-entry>{manifest}</manifest:file-entry></manifest:manifest>",
        }
    )  # fmt: skip


def epub(
    chapters: dict[str, str | bytes], *, more: dict[str, str | bytes] | None = None, nav: bool = True, missing: str = ""
) -> bytes:
    """An e-book of pages by name; the page `missing` is listed and not there."""
    names = [*chapters, *([missing] if missing else [])]
    listed = "".join(
        f'<item id="i{n}" href="{name}" media-type="application/xhtml+xml"/>' for n, name in enumerate(names)
    )
    return package(
        {
            "mimetype": "application/epub+zip",
            "META-INF/container.xml": f'{XML}<container xmlns="urn:oasis:names:tc:opendocument:xmlns:container"><rootfiles>'
            '<rootfile full-path="OPS/book.opf" media-type="application/oebps-package+xml"/></rootfiles></container>',
            "OPS/book.opf": f'{XML}<package xmlns="http://www.idpf.org/2007/opf" version="3.0"><manifest>{listed}'
            '<item id="nav" href="nav.xhtml" media-type="application/xhtml+xml" properties="nav"/>'
            '<item id="pic" href="cover.svg" media-type="image/svg+xml"/></manifest><spine>'
            + '<itemref idref="nav"/>' * nav + '<itemref idref="pic"/>'
            + "".join(f'<itemref idref="i{n}"/>' for n in range(len(names))) + "</spine></package>",
            "OPS/nav.xhtml": "<html><body><nav><ol><li>contents</li></ol></nav>contents</body></html>",
            **{f"OPS/{name}": page for name, page in chapters.items()},
            **(more or {}),
        }
    )  # fmt: skip


def pdf(*pages: Sequence[tuple[float, str]], size: tuple[int, int] = (300, 400)) -> bytes:
    """A PDF file; a page is a list of lines with their distance from the top, in Helvetica of 10 points."""
    objects: list[bytes] = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"",
        b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
    ]
    kids = []
    for lines in pages:
        said = [text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)") for _, text in lines]
        drawn = "".join(f"BT /F1 10 Tf 30 {size[1] - down} Td ({text}) Tj ET\n" for (down, _), text in zip(lines, said))
        stream = drawn.encode("latin-1")
        objects.append(b"<< /Length %d >>\nstream\n%s\nendstream" % (len(stream), stream))
        objects.append(
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %d %d] /Contents %d 0 R /Resources << /Font << /F1 3 0 R >> >> >>"
            % (*size, len(objects))
        )
        kids.append(len(objects))
    objects[1] = b"<< /Type /Pages /Count %d /Kids [%s] >>" % (len(kids), b" ".join(b"%d 0 R" % kid for kid in kids))
    return pdf_of(objects)


def pdf_of(objects: list[bytes], trailer: bytes = b"") -> bytes:
    """A PDF file of its objects, the first one the catalogue."""
    out, places = b"%PDF-1.4\n", []
    for number, content in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, content)
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    return out + b"trailer << /Size %d /Root 1 0 R %s >>\nstartxref\n%d\n%%%%EOF\n" % (len(objects) + 1, trailer, start)
