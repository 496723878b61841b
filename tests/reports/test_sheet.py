"""Sheets of words: each grapheme a box and a point, nothing on the child's page that is for the adult."""

from __future__ import annotations

import re
from functools import cache
from io import BytesIO
from pathlib import Path
from random import Random

import docx
import pytest
from docx.oxml.ns import qn
from docx.shared import Mm

from decodecheck.cli.main import run
from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.lexicon.store import tables
from decodecheck.phonics.sounds import project
from decodecheck.reports import paper
from decodecheck.reports.fit import fit
from decodecheck.reports.page import Dictated, Dictation, Frames, Page, WordCards
from decodecheck.reports.pages import docx as page_docx
from decodecheck.reports.pages import html as page_html
from decodecheck.reports.pages import text as page_text
from decodecheck.reports.sheet import CARDS, DICTATION, FRAMES, PARTS, WordSheet, notes, of_list, page, watch
from decodecheck.wordlists.any_words import describe_any
from decodecheck.wordlists.described import FoundWord
from tests.insight.demo import HARBOUR
from tests.wordlists.asking import everything, found, harbour

MARKS = "'-’"


def described(*words: str, step: int = 27) -> tuple[FoundWord, ...]:
    result = describe_any(harbour(), step, words)
    assert None not in result
    return tuple(word for word in result if word)


def sheet(*words: str, step: int = 27, title: str = "") -> WordSheet:
    return of_list(harbour(), step, described(*words, step=step), title)


def block(of: Page, kind: type) -> object:
    (only,) = [b for b in of.blocks if isinstance(b, kind)]
    return only


@cache
def sample() -> tuple[WordSheet, Page]:
    """A sheet of words drawn from the whole lexicon, whatever they are."""
    order = everything()
    lookup = Lookup(order.accent)
    drawn = [w for w in Random(10).sample(tables().words(), 900) if lookup.lexicon.has(w)]
    # and all of a kind of which such a sample holds few
    drawn += [
        "didn't",
        "dogs'",
        "it's",
        "o'clock",
        "i'm",
        "merry-go-round",
        "one-eyed",
        "cake",
        "queen",
        "box",
        "table",
    ]
    words = [word for word in describe_any(order, order.last, drawn) if word]
    assert len(words) == len(drawn) > 500
    made = of_list(order, order.last, words)
    return made, page(made)


# The source: readings as `explain` looks them up, which does without the columns that sheets are made of.
def test_each_word_has_a_box_and_a_point_for_each_grapheme() -> None:
    made, whole = sample()
    lookup = Lookup(everything().accent)
    frames, dictation = block(whole, Frames), block(whole, Dictation)
    assert isinstance(frames, Frames) and isinstance(dictation, Dictation)
    assert len(frames.boxes) == len(dictation.words) == len(made.words)
    for word, boxes, told in zip(made.words, frames.boxes, dictation.words):
        readings = lookup.readings(word.word.lower()) or lookup.joined(plain_spelling(word.word)).readings
        counts = {
            (
                sum(s.grapheme not in MARKS for s in r.segments),
                sum(len(project(s.grapheme, s.sound, s.linked, "southern-british")) for s in r.segments if s.grapheme not in MARKS),
            )
            for r in readings
        }  # fmt: skip
        assert (boxes, told.sounds) in counts, word.word
        assert len(told.graphemes) == boxes
        # no box for an apostrophe alone, and no letter left out or told twice
        assert all(g.strip(MARKS) for g in told.graphemes), word.word
        letters = sorted(c for g in told.graphemes for c in g.lower() if c not in MARKS)
        assert letters == sorted(c for c in word.word.lower() if c not in MARKS), word.word


# Common practice, no source: the counts that teachers of reading use, and what is one box of a phoneme frame.
@pytest.mark.parametrize(
    ("word", "boxes", "sounds"),
    [
        ("day", 2, 2), ("knit", 3, 3), ("bright", 4, 4), ("bird", 3, 3), ("storm", 4, 4), ("star", 3, 3), ("queen", 3, 4),
        ("box", 3, 4), ("cake", 3, 3), ("table", 4, 5), ("apple", 3, 4), ("didn't", 5, 6), ("sheep", 3, 3),
    ],
)  # fmt: skip
def test_counts(word: str, boxes: int, sounds: int) -> None:
    whole = page(sheet(word))
    frames, dictation = block(whole, Frames), block(whole, Dictation)
    assert isinstance(frames, Frames) and isinstance(dictation, Dictation)
    (told,) = dictation.words
    assert (frames.boxes, told.sounds, len(told.graphemes)) == ((boxes,), sounds, boxes)


def test_an_apostrophe_stands_with_a_letter_and_a_name_keeps_its_capital() -> None:
    whole = page(sheet("didn't", "Tilda", "it's"))
    dictation = block(whole, Dictation)
    assert isinstance(dictation, Dictation)
    assert [w.graphemes for w in dictation.words] == [
        ("d", "i", "d", "n", "'t"),
        ("T", "i", "l", "d", "a"),
        ("i", "t", "'s"),
    ]


# -- what is told ---------------------------------------------------------------------------------------------------------


def test_what_to_watch() -> None:
    made = sheet("grow", "knee", "meat", "said", "Tilda", "bottle", "blidge", step=23)
    told = {word.word: watch(made, word) for word in made.words}
    assert told["grow"] == [] and told["Tilda"] == []
    assert told["knee"][:2] == ["can be decoded at no step of this order", "kn: n is likelier"]
    assert any(re.match(r"sounds like meet\b.*: say a sentence$", note) for note in told["meat"])
    assert "ea: ee, e-e are taught, too" in told["meat"]
    assert told["said"][0] == "a tricky word" and "cannot be decoded before step 27" in told["bottle"]
    assert told["blidge"] == ["not in the lexicon: divided by its spelling alone, so check it"]


def test_the_other_spellings_are_those_that_have_been_taught() -> None:
    for step, others in ((14, ""), (21, "o-e"), (23, "o-e, ow")):
        made = sheet("boat", step=step)
        notes_on_oa = [note for note in watch(made, made.words[0]) if note.startswith("oa: ")]
        if not others:
            assert notes_on_oa == []
        else:
            assert set(re.findall(r"o-e|ow", " ".join(notes_on_oa))) <= set(others.split(", ")) and notes_on_oa


def test_an_adult_is_told_of_words_that_cannot_be_decoded_and_a_child_is_not() -> None:
    made = sheet("grow", "knee", "said", "blidge", "Tilda", "read", step=23)
    assert [word for word, _ in notes(made)] == ["knee", "said", "blidge", "read"]
    assert "The letters kn say /n/ here" in dict(notes(made))["knee"]
    child = page_text.render(page(made, [FRAMES, CARDS]))
    assert "decoded" not in child and "tricky" not in child and "lexicon" not in child


def test_words_that_were_found_need_no_note() -> None:
    listed = found(harbour(), 23, "ow as in grow", number=8, apart=True)
    made = WordSheet(harbour(), 23, listed.words)
    assert list(notes(made)) == []
    dictation = block(page(made), Dictation)
    assert isinstance(dictation, Dictation)
    assert [w.word for w in dictation.words] == [w.word for w in listed.words]
    assert not any("sounds like" in w.watch for w in dictation.words)


# -- the pages ------------------------------------------------------------------------------------------------------------

LESSON = ("butterfly", "playground", "knee", "didn't", "queen", "cake", "grandmother", "see")


def test_no_word_stands_on_the_childs_page() -> None:
    made = sheet(*LESSON)
    html = page_html.render(page(made, [FRAMES]))
    text = page_text.render(page(made, [FRAMES]))
    for word in LESSON:
        assert not re.search(rf"\b{word}\b", html) and not re.search(rf"\b{word}\b", text)
    assert html.count('class="place"') == html.count('class="line"') == len(LESSON)


@pytest.mark.parametrize("part", PARTS)
def test_every_part_says_what_it_is_for(part: str) -> None:
    made = sheet("grow", "knee", title="Week 3")
    for rendered in (page_html.render(page(made, [part])), page_text.render(page(made, [part]))):
        assert "Week 3: " in rendered and "Harbour Lane order of teaching, step 27 of 27" in rendered
        assert "Date" in rendered
    whole = page_text.render(page(made))
    assert whole.count("Harbour Lane order of teaching, step 27 of 27") == 3 and whole.count("Date ") == 3


@pytest.mark.parametrize("on", paper.PAPERS)
def test_html_needs_nothing_else_and_has_a_box_for_each_grapheme(on: str) -> None:
    made = sheet(*LESSON)
    html = page_html.render(fit(page(made, PARTS, on)))
    assert not re.search(r"\bsrc=|\bhref=|<script|<link|<img|url\(|@import|https?:", html)
    assert f"size: {'A4' if on == 'a4' else 'letter'};" in html
    rows = re.findall(r'<span class="boxes">(.*?)</span>', html)
    assert [row.count("<i ") for row in rows] == [w.graphemes for w in made.words]
    ticks = re.findall(r"<ul>(.*?)</ul>", html)
    assert [row.count("<li><i></i>") for row in ticks] == [w.graphemes for w in made.words]
    # nothing under a letter, and nothing told by colour
    assert not re.search(r"text-decoration|underline|dotted|dashed", html)
    assert {c.lower() for c in re.findall(r"#[0-9a-fA-F]{3,6}\b", html)} <= {"#111", "#fff", "#444", "#bbb", "#777"}


@pytest.mark.parametrize("on", paper.PAPERS)
def test_the_cells_of_a_word_document_are_the_counts(on: str) -> None:
    made = sheet(*LESSON)
    document = docx.Document(BytesIO(page_docx.render(fit(page(made, PARTS, on)))))
    section = document.sections[0]
    width, height = paper.PAPERS[on]
    assert abs(int(section.page_width or 0) - Mm(width)) < 500 and abs(int(section.page_height or 0) - Mm(height)) < 500
    dictation, *frames, cards = document.tables
    assert [[c.text for c in row.cells[3:]] for row in dictation.rows[1:]] == [
        [str(w.graphemes), str(w.sounds)] for w in made.words
    ]
    assert [row.cells[2].text.count("☐") for row in dictation.rows[1:]] == [w.graphemes for w in made.words]
    assert len(frames) == len(made.words)
    for number, (frame, word) in enumerate(zip(frames, made.words), 1):
        (row,) = frame.rows
        assert row.cells[0].text == str(number) and not "".join(c.text for c in row.cells[1:])
        boxed = [c for c in row.cells if len(c._tc.findall(".//" + qn("w:tcBorders") + "/*")) == 4]
        assert len(boxed) == word.graphemes and len(row.cells) == word.graphemes + 3
    assert [c.text for row in cards.rows for c in row.cells] == list(LESSON)


@pytest.mark.parametrize("on", paper.PAPERS)
@pytest.mark.parametrize("most", [1, 4, 9, 14, 26])
def test_frames_and_cards_stay_on_the_paper(on: str, most: int) -> None:
    frames = Frames((1, most))
    used = paper.NUMBER + paper.boxes_width(frames, on) + paper.GAP + paper.WRITING
    assert used <= paper.line_width(on) + 0.01
    assert paper.box_width(frames, on) <= paper.BOX
    sizes = [paper.card_type(WordCards(("m" * n,)), on) for n in (3, most + 3)]
    assert paper.LARGEST >= sizes[0] >= sizes[1] >= paper.SMALLEST
    assert sum(paper.column_widths(on)) == pytest.approx(paper.line_width(on))


def test_texts_are_escaped_in_every_part() -> None:
    whole = Page(
        "T <b>", "", (Dictation((Dictated("<i>", ("<", "i>"), 1, "& so"),)), WordCards(("<i>",))), "sheet", "letter"
    )
    html = page_html.render(fit(whole))
    assert "<i>" not in re.sub(r"<li><i></i>", "", html).replace("<i style", "") and html.count("&lt;i&gt;") == 2


def test_parts_stand_in_one_order_whatever_is_asked_first() -> None:
    made = sheet("grow")
    assert page(made, [CARDS, DICTATION]) == page(made, [DICTATION, CARDS])
    assert page(made, [CARDS]).title == "Word cards"


def test_the_adult_is_told_where_the_e_of_a_split_digraph_goes() -> None:
    made = sheet("cake", "these", "ship")
    told = page_text.render(page(made, [DICTATION])).replace("\n", " ")
    assert (
        "A split digraph has one box in a frame: of a-e in cake, a goes there, and e into the next box, behind k."
        in told
    )
    assert "split" not in page_text.render(page(made, [FRAMES]))
    assert "split" not in page_text.render(page(sheet("ship", "queen"), [DICTATION]))


def test_a_word_that_stands_twice_is_noted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "week.txt"
    path.write_text("ship\nboat\nShip\nboat\nboat\n", encoding="utf-8")
    assert run(["sheet", str(path), "--progression", str(HARBOUR), "--step", "14"]) == 0
    said = capsys.readouterr()
    assert said.err.count("note: This word stands in the list already (line 1).") == 1
    assert said.err.count("note: This word stands in the list already (line 2).") == 2
    assert [int(n) for n in re.findall(r"week.txt:(\d):1: note", said.err)] == [3, 4, 5]
    # the list is printed as it is
    assert said.out.count("│   │") >= 5
