"""What the comments of a text say: allowances where they hold, the step of the text; and that a comment is taken out byte for byte."""

from __future__ import annotations

import io
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.documents.document import Document
from decodecheck.documents.readers import epub, markdown, plain_text, web_page
from decodecheck.errors import UserError
from decodecheck.project.taking_out import without

READ = {"txt": plain_text.read, "md": markdown.read, "html": web_page.read}


def read(kind: str, text: str) -> Document:
    return READ[kind](f"x.{kind}", text.encode())


def held(document: Document) -> list[tuple[str, str, str, str]]:
    """Each allowance with the text in which it holds."""
    return [(a.word, a.kind, a.reason, document.text[a.start : a.end].strip()) for a in document.allowances]


# The source: what rules/GUIDE.md says of each place in which an allowance may stand.
@pytest.mark.parametrize(
    ("kind", "text", "found"),
    [
        ("txt", "#! decodecheck: allow Zofka\nOne.\n\nTwo.\n", [("Zofka", "", "", "One.\n\nTwo.")]),
        ("txt", "\n \n#! for adults\n#! DecodeCheck : Allow ten, eleven\nOne.\n", [("ten", "", "eleven", "One.")]),
        ("txt", "One.\n#! decodecheck: allow ten [unlisted-word] she knows it\n\nTwo.\nThree.\n", [("ten", "unlisted-word", "she knows it", "Two.")]),
        ("txt", "One.\n#! decodecheck: allow ten\n#! decodecheck: allow two: why\n  #! x\nTwo.\nThree.", [("ten", "", "", "Two."), ("two", "", "why", "Two.")]),
        ("txt", "One.\r\n#! decodecheck: begin allow ten\r\nTwo.\r\nThree.\r\n#! decodecheck: end allow Ten\r\nFour.\r\n", [("ten", "", "", "Two.\r\nThree.")]),
        ("txt", "One.\n#! decodecheck: allow ten\n", [("ten", "", "", "")]),
        ("txt", "One.\n#! decodecheck: skip\n#! decodecheck: allow ten\nTwo.\n\nThree.\n", [("ten", "", "", "Three.")]),
        ("md", "<!-- decodecheck: allow ten -->\n# One\n\nTwo\n", [("ten", "", "", "One\n\nTwo")]),
        ("md", "One\n\nTwo <!-- decodecheck: allow ten\nfor now --> three.\n\nFour\n", [("ten", "", "for now", "Two  three.")]),
        ("md", "One\n\n<!-- decodecheck: allow ten -->\n\nTwo\nthree.\n\nFour\n", [("ten", "", "", "Two three.")]),
        ("md", "One\n\n<!-- decodecheck: begin allow ten -->\n\n- Two\n- Three\n\n<!-- decodecheck: end allow ten -->\n\nFour\n", [("ten", "", "", "Two\n\nThree")]),
        ("md", "One <!-- decodecheck: begin allow ten --> two <!-- decodecheck: end allow ten --> three", [("ten", "", "", "two")]),
        ("md", "One\n\n<!-- decodecheck: skip -->\nTwo <!-- decodecheck: allow ten -->\n\nThree\n", [("ten", "", "", "")]),
        ("html", "<title>x</title><!-- decodecheck: allow ten --><p>One<p>Two", [("ten", "", "", "One\n\nTwo")]),
        ("html", "<p>One<p><!-- decodecheck: allow ten -->Two<p>Three", [("ten", "", "", "Two")]),
        ("html", "<p>One<p>Two <!-- decodecheck: allow ten --><p>Three", [("ten", "", "", "Two")]),
    ],
)  # fmt: skip
def test_where_an_allowance_holds(kind: str, text: str, found: list[tuple[str, str, str, str]]) -> None:
    document = read(kind, text)
    assert held(document) == found
    for allowance in document.allowances:
        (start, end), *_ = allowance.spans
        line, column = allowance.place.line, allowance.place.column
        assert text.splitlines()[line - 1][column - 1 :].startswith(text[start:end].splitlines()[0])
        assert text[start:end].startswith(("#!", "<!--")) and text[start:end].endswith(("-->", text[start:end][-1]))


def book(*chapters: str) -> bytes:
    items = "".join(
        f'<item id="c{n}" href="c{n}.xhtml" media-type="application/xhtml+xml"/>' for n in range(len(chapters))
    )
    spine = "".join(f'<itemref idref="c{n}"/>' for n in range(len(chapters)))
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w") as packed:
        packed.writestr("mimetype", "application/epub+zip")
        packed.writestr(
            "META-INF/container.xml",
            '<container xmlns="urn:oasis:names:tc:opendocument:xmlns:container"><rootfiles><rootfile full-path="b.opf"/></rootfiles></container>',
        )
        packed.writestr(
            "b.opf",
            f'<package xmlns="http://www.idpf.org/2007/opf"><manifest>{items}</manifest><spine>{spine}</spine></package>',
        )
        for n, chapter in enumerate(chapters):
            packed.writestr(f"c{n}.xhtml", f"<html><body>{chapter}</body></html>")
    return data.getvalue()


def test_allowances_of_a_book_hold_in_their_chapter() -> None:
    document = epub.read(
        "b.epub",
        book(
            "<!-- decodecheck: step 9 --><h1>One</h1><p>tin</p><!-- decodecheck: allow ten --><p>pan</p><p>hat</p>",
            "<!-- decodecheck: allow ten --><p>hen</p><p>pen</p>",
            "<p>dog</p><!-- decodecheck: begin allow ten --><p>cat</p><p>cow</p><!-- decodecheck: end allow ten --><p>pig</p>",
        ),
    )
    assert [text for *_, text in held(document)] == ["pan", "hen\n\npen", "cat\n\ncow"]
    assert [(a.place.chapter, a.place.paragraph, a.spans) for a in document.allowances] == [
        ("One", 3, ()), ("c1.xhtml", 1, ()), ("c2.xhtml", 2, ())
    ]  # fmt: skip
    assert document.own_step and document.own_step.wanted.text == "9"
    with pytest.raises(UserError) as caught:
        epub.read("b.epub", book("<p>One</p>", "<!-- decodecheck: step 9 --><p>hen</p>"))
    assert caught.value.problems[0].what == "The step of a book stands before its first word."


@pytest.mark.parametrize(
    ("kind", "text", "value", "group", "place"),
    [
        ("md", "---\ntitle: Tin\nstep: 9\n---\nOne", "9", False, (3, 7)),
        ("md", '---\n"step": "14 also igh as in light"\n---\nOne', "14 also igh as in light", False, (2, 10)),
        ("md", "---\ngroup: Limpets # ours\n---\nOne", "Limpets", True, (2, 8)),
        ("md", "---\r\ntitle: é\r\nstep: Autumn\r\n---\r\nOne", "Autumn", False, (3, 7)),
        ("md", "<!-- decodecheck: step 9 -->\nOne", "9", False, (1, 24)),
        ("md", "---\nsteps: 3\nbook: {step: 9}\n---\nOne", None, False, None),
        ("md", "One\n\n---\nstep: 9\n---\n", None, False, None),
        ("md", "---\ntitle: [\n---\nOne", None, False, None),
        ("html", "<head><!--decodecheck: step: 9--></head><p>One", "9", False, (1, 30)),
        ("txt", "#! decodecheck: step 14 lag 2\nOne", "14 lag 2", False, (1, 22)),
        ("txt", "#! decodecheck: group Limpets\nOne", "Limpets", True, (1, 23)),
    ],
)  # fmt: skip
def test_the_step_that_a_text_names(
    kind: str, text: str, value: str | None, group: bool, place: tuple[int, int] | None
) -> None:
    own = read(kind, text).own_step
    if value is None:
        assert own is None
        return
    assert own is not None
    assert (own.wanted.text, own.group, (own.wanted.line, own.wanted.column)) == (value, group, place)


@pytest.mark.parametrize(
    "front", ["step: 1\n" * 5000, "step: " + "[" * 5000, "a: &a [x]\nstep: *a", "step: *b", "step: 1\nstep: 2"]
)
def test_front_matter_that_is_hostile_gets_a_message(front: str) -> None:
    with pytest.raises(UserError) as caught:
        read("md", f"---\n{front}\n---\nOne")
    assert all(p.line and p.what and p.todo for p in caught.value.problems)


LINES = st.lists(
    st.sampled_from(["A tin.", "", "  ", "é 🐴 hat", "> a pan", "- a pen", "# Hen"]), min_size=1, max_size=8
)
ENDS = st.sampled_from(["\n", "\r\n", "\r"])


@settings(max_examples=200, deadline=None)
@given(LINES, ENDS, st.data(), st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]), st.booleans())
def test_of_a_plain_text_the_lines_of_the_comments_go_and_nothing_else(
    lines: list[str], end: str, data: st.DataObject, encoding: str, last: bool
) -> None:
    original = end.join(lines) + end * last
    with_notes = [*lines]
    for n, at in enumerate(data.draw(st.lists(st.integers(0, len(lines)), max_size=3))):
        with_notes.insert(at, f"#! decodecheck: allow word{n * 'x'} it is gone")
    text = end.join(with_notes) + end * last
    if not last and with_notes[-1].startswith("#!"):
        return  # the end of the line before it stays
    document = plain_text.read("x.txt", text.encode(encoding))
    taken = without(text.encode(encoding), "x.txt", document.allowances) if document.allowances else None
    assert (text.encode(encoding) if taken is None else taken) == original.encode(encoding)


@settings(max_examples=200, deadline=None)
@given(LINES, ENDS, st.data(), st.sampled_from(["utf-8", "utf-8-sig"]))
def test_of_markup_the_comments_go_and_at_most_their_own_line(
    lines: list[str], end: str, data: st.DataObject, encoding: str
) -> None:
    note = "<!-- decodecheck: allow bread it is gone -->"
    at, inline = data.draw(st.integers(0, len(lines) - 1)), data.draw(st.booleans())
    before, after = lines[:at], lines[at:]
    if inline:
        text = end.join([*before, after[0] + note, *after[1:]])
        outcomes = {end.join(lines)}
    else:
        text = end.join([*before, note, *after])
        outcomes = {end.join(lines)}
        if before and before[-1].strip() and after[0].strip():
            outcomes = {end.join([*before, "", *after])}
    document = markdown.read("x.md", text.encode(encoding))
    if not document.allowances:
        return  # in a place where Markdown sees no comment
    taken = without(text.encode(encoding), "x.md", document.allowances)
    assert taken is not None
    if inline and not after[0].strip():
        # a comment with blanks beside it has its line to itself
        outcomes.add(end.join([*before, *(after[1:] or [""])]))
    assert taken.decode(encoding) in outcomes
    assert not markdown.read("x.md", taken).allowances


def test_what_is_in_another_encoding_is_left() -> None:
    page = '<meta charset="windows-1252"><!-- decodecheck: allow bread --><p>caf\xe9'.encode("cp1252")
    document = web_page.read("x.html", page)
    assert document.allowances and without(page, "x.html", document.allowances) is None
