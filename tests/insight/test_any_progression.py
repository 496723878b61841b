"""Whatever a progression says, every page can be made of it, and what the pages say of words holds."""

from __future__ import annotations

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.checking.judge import Judge
from decodecheck.insight.advise import advise
from decodecheck.insight.brief import brief
from decodecheck.insight.compare import compare
from decodecheck.insight.overview import overview
from decodecheck.insight.preview import preview
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.resolve import resolve
from decodecheck.reports import brief as brief_report
from decodecheck.reports import comparison, page_html, page_text
from decodecheck.reports import overview as overview_report
from decodecheck.reports import preview as preview_report
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
    report = Checker(Judge(order, step)).check(SourceText("x.txt", TEXT), every_word=True)
    pages = [
        overview_report.page(overview(order, step)),
        brief_report.page(brief(order, step)),
        preview_report.page(preview(report, order)),
        comparison.page(compare(*orders), [], 0),
    ]
    for page in pages:
        assert page_text.render(page) and page_html.render(page)
    for note in advise(order).notes:
        assert note.excerpt == text.split("\n")[note.line - 1]
    same = compare(order, order)
    assert not (same.moved or same.steps or same.dropped or same.added)
