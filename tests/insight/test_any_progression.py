"""Whatever a progression says, every page can be made of it, and what the pages say of words holds."""

from __future__ import annotations

import html
import re
from collections import Counter

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.insight.advise import advise
from decodecheck.insight.brief import brief
from decodecheck.insight.compare import compare
from decodecheck.insight.overview import overview
from decodecheck.insight.preview import preview
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, DECODABLE
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.resolve import resolve
from decodecheck.reports import brief as brief_report
from decodecheck.reports import comparison
from decodecheck.reports import overview as overview_report
from decodecheck.reports import preview as preview_report
from decodecheck.reports.page import Display, Entry, Heading, Page, Paragraph, Table
from decodecheck.reports.pages import html as page_html
from decodecheck.reports.pages import text as page_text
from decodecheck.source import SourceText

LESSONS = st.sampled_from(
    [
        "teach p, e, n", "teach t, a, m", "teach i, o, d, s", "teach sh, ch, th, ng", "teach a-e", "teach ow as in town",
        "teach ow as in grow", "teach oo as in moon and book", "teach -s", "teach -ed, -ing", "teach o as in go, at word end",
        "together nk, tion", "structure CVCC", "structure 2 syllables", "tricky said, was", "tricky I, the, a", "teach D, T",
        "teach ff, ll", "teach y as in funny", "teach st, bl", "teach er", "teach le", "teach qu, x",
    ]
)  # fmt: skip
STEPS = st.lists(
    st.tuples(st.integers(1, 4), st.sampled_from(["", ' "autumn"', ' "spring"']), st.lists(LESSONS, max_size=3))
)
OUTSIDE = st.lists(
    st.sampled_from(
        ["allow names Tilda, Mr Pike", "allow sounds brrr", "skip all names", "weakened vowels exact",
         "word Zog = z + o + g"]
    ),
    max_size=3, unique=True,
)  # fmt: skip
TEXT = "Hee-haw! said Tilda.\nMr Pike had a boat and bread. He read it to Niamh, brrr. It's 3 o'clock, a-ha... Zog flumped."


@st.composite
def progressions(draw: st.DrawFn) -> str:
    lines = [f"accent {draw(st.sampled_from(ACCENTS))}"]
    number = 0
    seen: set[str] = set()
    for by, title, lessons in draw(STEPS.filter(bool)):
        number += by
        lines.append(f"step {number}{title}")
        fresh = [lesson for lesson in dict.fromkeys(lessons) if lesson not in seen]
        seen |= set(fresh)
        lines += [f"  {lesson}" for lesson in fresh]
    return "\n".join([*lines, *draw(OUTSIDE)]) + "\n"


def written(page: Page) -> list[str]:
    """Every text of a page, in order."""
    found = [page.title, page.subtitle]
    for block in page.blocks:
        match block:
            case Heading(text) | Paragraph(text):
                found.append(text)
            case Entry(label, text):
                found += [label, text]
            case Table():
                found += [*block.header, *(cell for row in block.rows for cell in row)]
    return found


def words_of(text: str) -> Counter[str]:
    return Counter(re.findall(r"[\w'’-]+", text))


def holds_what_is_written(page: Page) -> None:
    """Both forms of a page say all that stands in it, as often."""
    wanted = Counter[str]()
    for text in written(page):
        wanted += words_of(text)
    html_text = html.unescape(re.sub(r"<[^>]+>", " ", re.sub(r"(?s)<style>.*?</style>", " ", page_html.render(page))))
    assert not wanted - words_of(html_text)
    # a narrow column of text breaks long words
    squeezed = "".join(page_text.render(page).split())
    assert not [
        t
        for t in written(page)
        if not any(isinstance(b, Table) for b in page.blocks) and "".join(t.split()) not in squeezed
    ]


# shrinking would take minutes: an example is half a second
@settings(max_examples=12, deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(progressions(), progressions(), st.integers(0, 30))
def test_every_page_of_any_progression(text: str, other: str, at: int) -> None:
    orders = []
    for each in (text, other):
        order, problems = resolve(each, "x.progression")
        assert not [p for p in problems if not p.note], [p.text() for p in problems]
        orders.append(order)
    order = orders[0]
    step = order.steps[at % len(order.steps)].number
    judge = Judge(order, step)

    found = overview(order, step)
    page = overview_report.page(found)
    holds_what_is_written(page)
    display = next(b for b in page.blocks if isinstance(b, Display))
    figures = next(b for b in page.blocks if isinstance(b, Table))
    assert [r.number for r in found.rows] == [s.number for s in order.steps if s.number <= step]
    for row, cells in zip(found.rows, figures.rows, strict=True):
        assert str(row.number) in cells[0].split(" ")
        assert cells[1:4] == tuple(
            str(n) for n in (row.readable[0].new, row.readable[0].decodable, row.readable[0].with_tricky)
        )
    plain = [(r, [t for t in r.taught if t.mention.kind not in ("structure", "adjacent")]) for r in found.rows]
    shown = [(row, lessons) for row, lessons in plain if lessons or row.tricky]
    for (row, lessons), card in zip(shown, display.cards, strict=True):
        assert str(row.number) in card.name.split(" ")
        assert set(card.words) == {w for w, _ in row.tricky}
        assert {g for g, _ in card.graphemes} == {t.name for t in lessons}

    advice = brief(order, step)
    page = brief_report.page(advice)
    holds_what_is_written(page)
    listed = {b.label: b.text for b in page.blocks if isinstance(b, Entry)}
    for label, words in advice.words:
        assert listed[label if label == "other" else f"{label}s"] == ", ".join(words)
        assert {judge.judge(w).status for w in words} == {DECODABLE}
    assert listed.get("tricky words", "") == ", ".join(advice.tricky)

    report = Checker(judge).check(SourceText("x.txt", TEXT), every_word=True)
    before = preview(report)
    page = preview_report.page(before)
    holds_what_is_written(page)
    said = " ".join(written(page))
    assert all(word in said for p in before.practice for word, _ in p.words)
    for words in (before.names, before.sounds, before.read_to, before.by_eye):
        assert ", ".join(words) in said
    assert {judge.judge(w).status for w in before.read_to} <= {BLOCKED}
    # what stands in the text and cannot be read is on the half page, a name among the names
    blocked = {w.word.lower() for w in report.words if w.verdict.status == BLOCKED}
    to_read = {w.lower() for w in before.read_to}
    assert to_read <= blocked <= to_read | {w.lower() for name in before.names for w in name.split()}

    changes = compare(*orders)
    page = comparison.page(changes, [], 0)
    holds_what_is_written(page)
    moved = [b.rows for b in page.blocks if isinstance(b, Table)]
    assert sum(map(len, moved)) == len(changes.moved)
    assert [row for rows in moved for row in rows] == [
        (m.name, str(m.old or "never"), str(m.new or "never")) for m in changes.moved
    ]

    for note in advise(order).notes:
        assert note.excerpt == text.split("\n")[note.line - 1]
    same = compare(order, order)
    assert not (same.moved or same.steps or same.dropped or same.added)
