"""Documents and places: every offset leads back to where it stands in its file, in lines, paragraphs or cells."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.documents.document import Block, Document, Place, as_toml
from decodecheck.documents.reading import read_document, suffixes
from decodecheck.errors import UserError
from decodecheck.judging.judge import Judge
from decodecheck.printing import as_json
from decodecheck.progression.resolve import resolve
from decodecheck.reports.check import json as json_format
from decodecheck.reports.details import details
from decodecheck.reports.view import View
from decodecheck.run import Run
from decodecheck.source import SourceText
from tests.reports.test_machine import SCHEMA

ORDER, _ = resolve(
    "step 1\n  teach a, b, d, e, h, i, m, n, o, p, r, s, t, w, th, ea as in leaf\n  tricky the\n", "x.progression"
)
WORDS = (
    Block(0, Place(page=1, paragraph=1)),
    Block(10, Place(page=2, paragraph=7)),
    Block(25, Place(sheet="Autumn", cell="B7")),
)
LETTER = Document("letter.words", "The hat.\n\nThe head\nran.\n\nMap sheep", WORDS)


@given(st.text(alphabet="ab \n\r\t é🐴", max_size=60), st.data())
def test_a_plain_text_has_the_places_of_its_lines(text: str, data: st.DataObject) -> None:
    document, source = Document("x", text), SourceText("x", text)
    offset = data.draw(st.integers(0, len(text)))
    place = document.place(offset)
    assert (place.line, place.column) == source.place(offset)
    line, column = document.line_of(offset)
    assert line == source.line(place.line) and column == place.column
    assert place == Place(line=place.line, column=place.column)


@given(st.lists(st.text(alphabet="ab\n", min_size=1, max_size=9), min_size=1, max_size=6), st.data())
def test_blocks_have_places_of_their_own(parts: list[str], data: st.DataObject) -> None:
    blocks, text = [], ""
    for number, part in enumerate(parts, 1):
        blocks.append(Block(len(text), Place(paragraph=number)))
        text += part + "\n\n"
    document = Document("x", text, tuple(blocks))
    number = data.draw(st.integers(1, len(parts)))
    at = data.draw(st.integers(0, len(parts[number - 1])))
    assert document.place(blocks[number - 1].start + at) == Place(paragraph=number, column=at + 1)


@given(st.lists(st.text(alphabet="ab\n", min_size=1, max_size=9), min_size=1, max_size=6), st.data())
def test_lines_may_be_counted_within_blocks(parts: list[str], data: st.DataObject) -> None:
    # as of the parts of a file that has lines, with something left out between them
    blocks, text, first = [], "", 1
    for part in parts:
        blocks.append(Block(len(text), Place(line=first, chapter="One")))
        text += part + "\n\n"
        first += 10
    document = Document("x", text, tuple(blocks))
    number = data.draw(st.integers(0, len(parts) - 1))
    at = data.draw(st.integers(0, len(parts[number])))
    before = parts[number][:at]
    line = 1 + 10 * number + before.count("\n")
    assert document.place(blocks[number].start + at) == Place(
        line=line, column=at - (before.rfind("\n") + 1) + 1, chapter="One"
    )


def test_findings_are_told_in_the_terms_of_the_file() -> None:
    report = Checker(Judge(ORDER, 1)).check(LETTER)
    found = [(f.word, f.place, f.end_place) for f in report.findings]
    assert found == [
        ("head", Place(page=2, paragraph=7, column=5), Place(page=2, paragraph=7, column=9)),
        ("sheep", Place(sheet="Autumn", cell="B7", column=5), Place(sheet="Autumn", cell="B7", column=10)),
    ]
    heads = [line for line in details(report, View()) if line.startswith("letter")]
    assert heads == [
        "letter.words, page 2, paragraph 7, column 5: h[ea]d - not yet decodable",
        "letter.words, sheet Autumn, cell B7, column 5: [sh][ee]p - not yet decodable",
    ]
    text = "".join(json_format.render(Run((report,)), View()))
    document = json.loads(text)
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    assert [f["place"] for f in document["files"][0]["findings"]] == [
        {"paragraph": 7, "page": 2},
        {"sheet": "Autumn", "cell": "B7"},
    ]
    assert as_json(document) + "\n" == text


def test_a_sense_is_settled_at_its_place() -> None:
    text = "We read.\n\nWe read."
    blocks = (Block(0, Place(paragraph=1)), Block(10, Place(paragraph=2)))

    def settled(word: str, place: Place) -> str:
        return "past" if word == "read" and place.within(Place(paragraph=2)) else ""

    report = Checker(Judge(ORDER, 1)).check(Document("x", text, blocks), settled=settled)
    assert [(f.kind, f.place.paragraph) for f in report.findings if f.word == "read"] == [
        ("undecided-sense", 1),
        ("untaught-correspondence", 2),
    ]
    # the remedy can be pasted: it names the place as the configuration does
    other = Checker(Judge(ORDER, 1)).check(Document("x", text, blocks))
    other.settled_as = "x"
    remedies = [f.remedy.splitlines()[-1] for f in other.findings if f.word == "read"]
    assert remedies == ["paragraph = 1", "paragraph = 2"]


def test_a_place_in_words_and_in_a_table() -> None:
    place = Place(line=3, column=5)
    assert (place.words(), place.after("a.txt"), as_toml(place)) == ("line 3", "a.txt:3:5", "line = 3")
    cell = Place(sheet='Au"tumn', cell="B7", column=2)
    assert cell.after("plan.xlsx") == 'plan.xlsx, sheet Au"tumn, cell B7, column 2'
    assert as_toml(cell) == 'sheet = "Au\\"tumn"\ncell = "B7"'
    assert place.within(Place()) and place.within(Place(line=3)) and not place.within(Place(line=4))


def test_a_file_is_read_by_the_end_of_its_name(tmp_path: Path) -> None:
    assert suffixes() == (".docx", ".epub", ".htm", ".html", ".markdown", ".md", ".odt", ".pdf", ".txt", ".xhtml")
    for name in ("a.txt", "a.TXT", "story"):
        (tmp_path / name).write_bytes("\ufeffThe hat\r\n".encode())
        document = read_document(str(tmp_path / name))
        assert (document.text, document.blocks[0].place) == ("The hat\r\n", Place(line=1))
    (tmp_path / "a.txt").write_bytes(b"%PDF-1.7 \xff")
    with pytest.raises(UserError, match="PDF"):
        read_document(str(tmp_path / "a.txt"))
