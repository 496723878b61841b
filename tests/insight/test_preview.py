"""The preview: from the text itself, half a page, nothing that is not in it."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from decodecheck.checking.check import Checker
from decodecheck.documents.reading import read_document
from decodecheck.insight.preview import Preview, preview
from decodecheck.insight.reasons import reasons
from decodecheck.judging.judge import judge_at
from decodecheck.reports.pages import text as page_text
from decodecheck.reports.preview import page
from decodecheck.session import Session

from .demo import DEMO, HARBOUR, order_of

TEXTS = sorted((DEMO / "texts").rglob("*.txt"))
HALF_A_PAGE = 28
"""Lines of half an A4 page (148 mm) without its margin, at 11 points with a line height of 1.35."""


def of(path: Path | str, step: str | None = None) -> Preview:
    checked = Session(str(HARBOUR) if step else None, step).check_story(str(path), every_word=True)
    return preview(checked)


def stands_in(word: str, text: str) -> bool:
    """Does a word or a name stand in a text as a whole word, perhaps with 's?"""
    return re.search(rf"(?<![\w'-]){re.escape(word)}(?:'s\b)?(?!['-]?\w)", text) is not None


def test_a_part_of_a_word_does_not_stand_in_a_text() -> None:
    assert stands_in("pike", "mr pike's hat") and stands_in("pike", "a pike.") and stands_in("i'm", "and i'm in")
    assert not any(stands_in(w, "i'm in the catkin bin-bag") for w in ("a", "i", "cat", "bin", "bag", "m"))


@pytest.mark.parametrize("path", TEXTS, ids=lambda p: p.stem)
def test_everything_comes_from_the_text(path: Path) -> None:
    p = of(path)
    text = path.read_text(encoding="utf-8").lower().replace("’", "'")
    practised = [w for x in p.practice for w, _ in x.words]
    counted = Counter(re.findall(r"[a-z'-]+", text))
    assert all(counted[w.lower()] == times for x in p.practice for w, times in x.words)
    words = [*practised]
    words += [w for w, _ in p.tricky] + list(p.names) + list(p.sounds) + list(p.read_to) + list(p.by_eye)
    assert p.practice and len(words) == len(set(words))
    assert [w for w in words if not stands_in(w.lower(), text)] == []
    assert all(part in counted for w in words for part in w.lower().split())


@pytest.mark.parametrize("path", TEXTS, ids=lambda p: p.stem)
def test_it_takes_half_a_page(path: Path) -> None:
    assert len(page_text.render(page(of(path))).split("\n")) <= HALF_A_PAGE


def test_target_words_are_those_of_the_step() -> None:
    p = of(DEMO / "texts" / "step-14" / "nettle-and-the-boat.txt")
    assert {x.lesson.statement: x.words for x in p.practice} == {
        "ee as in tree": (("weed", 2), ("keen", 1), ("teeth", 1), ("green", 1)),
        "oa as in boat": (("boat", 7), ("boats", 1)),
    }


def test_of_a_step_without_words_the_step_before_is_practised(tmp_path: Path) -> None:
    text = tmp_path / "tin.txt"
    text.write_text("A sheep is in the mud.", encoding="utf-8")
    p = of(text, "15")
    assert [(x.lesson.name, x.words) for x in p.practice] == [("ee", (("sheep", 1),))]


def test_names_whole_and_sounds_apart(tmp_path: Path) -> None:
    text = tmp_path / "visit.txt"
    text.write_text(
        '"Hee-haw!" Mr Pike ran. Then Tilda\'s mum and Zanzee sat with Omar. Pike’s hat fell off.', encoding="utf-8"
    )
    p = of(text, "14")
    assert p.names == ("Mr Pike", "Omar", "Tilda", "Zanzee")
    assert p.sounds == ("hee-haw",)


def test_the_latest_tricky_words_come_first() -> None:
    p = of(DEMO / "texts" / "step-22" / "bake-day.txt")
    steps = [p.order.tricky[w.lower()] for w, _ in p.tricky if w.lower() in p.order.tricky]
    assert steps == sorted(steps, reverse=True)
    assert dict(p.tricky)["said"] == "ai sounds like the e in bed"


def test_what_cannot_be_read_is_read_to_the_child() -> None:
    p = of(DEMO / "texts" / "step-22" / "bake-day.txt")
    assert set(p.read_to) == {"biscuit", "bread", "biggest", "grow", "nose", "friend", "saw"}


def test_two_sounds_of_a_lesson_are_listed_apart_and_structures_too(tmp_path: Path) -> None:
    text = tmp_path / "moon.txt"
    text.write_text("Look at the moon! The moon took a splash in the pool.", encoding="utf-8")
    found = [(x.lesson.name, x.lesson.words, x.words) for x in of(text, "15").practice]
    assert found == [
        ("oo", ("spoon",), (("moon", 2), ("pool", 1))),
        ("oo", ("good",), (("look", 1), ("took", 1))),
        ("CCCVC", (), (("splash", 1),)),
    ]


def test_no_word_is_left_out_in_silence(tmp_path: Path) -> None:
    text = tmp_path / "sheep.txt"
    text.write_text("feed seed weed need deep keep jeep sheep beep green queen teeth", encoding="utf-8")
    assert "beep, deep, feed, jeep, keep, need, queen, seed and 4 more" in page_text.render(page(of(text, "14")))


NAMED = """The Big Red Boat

Mark and Jill sat in a boat with Rose. "Sit!" said Will. Then Mark ran to Will, and Rose got on the boat. It was
a big day. Then Mrs Pott and I met Grace, and Grace's cat met a rose.
"""


def test_words_that_are_names_in_this_text(tmp_path: Path) -> None:
    """Mark and Will always have a capital, also inside of a sentence; Rose, Big and Mrs are none here."""
    story = tmp_path / "story.txt"
    story.write_text(NAMED, encoding="utf-8")
    found = of(story, "27")
    assert set(found.names) == {"Grace", "Jill", "Mark", "Pott", "Will"}


def test_a_name_in_the_text_is_offered_to_be_allowed(tmp_path: Path) -> None:
    story = tmp_path / "story.txt"
    story.write_text("Then Nettle sat. Omar fed Nettle.\n", encoding="utf-8")
    order = order_of("step 1\n  teach n, t, s, a, f, d, e, h\nallow names Omar\n")
    report = Checker(judge_at(order, 1)).check(read_document(str(story)))
    assert [told.form for told in reasons(report).names] == ["Nettle"]
    story.write_text("Then Nettle sat. Omar fed a nettle.\n", encoding="utf-8")
    report = Checker(judge_at(order, 1)).check(read_document(str(story)))
    assert not reasons(report).names
