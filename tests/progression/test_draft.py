"""A first progression from rows: it resolves, it teaches just what the rows name, and mistakes are told at their piece."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.lexicon.endings import ENDINGS
from decodecheck.phonics.inventory import inventory
from decodecheck.progression.draft import EMPTY, Piece, Row, draft
from decodecheck.progression.parse import parse
from decodecheck.progression.printer import print_source
from decodecheck.progression.resolve import resolve

ACCENT = "southern-british"
BARE = sorted(
    g
    for g, rows in inventory().by_grapheme.items()
    if {c.bare for c in rows} <= {"yes", "no"} and rows[0].bare == "yes"
)


def row(step: str = "", items: str = "", words: str = "", tricky: str = "") -> Row:
    return Row(*(Piece(t, f"cell {i}") if t else EMPTY for i, t in enumerate((step, items, words, tricky))))


def made(*rows: Row) -> str:
    text, problems = draft(rows, "Harbour Lane", ACCENT)
    assert problems == []
    assert not [p for p in resolve(text, "x")[1] if not p.note]
    return text


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from([*BARE, *ENDINGS]), unique=True, min_size=1, max_size=30), st.integers(1, 6))
def test_a_list_teaches_just_what_it_names(items: list[str], each: int) -> None:
    groups = [items[i : i + each] for i in range(0, len(items), each)]
    text = made(*(row(str(n), ", ".join(group)) for n, group in enumerate(groups, 1)))
    order = resolve(text, "x")[0]
    assert [[m.label for m in order.mentions if m.step == n] for n in range(1, len(groups) + 1)] == groups
    # it is in canonical form but for the blank line
    assert print_source(parse(text, "x")[0]) == text


def test_example_words_name_the_sound_where_it_matters() -> None:
    text = made(
        row("1", "ow", "town"), row("", "th", "thin"), row("2", "ow", "grow"), row("", "s", "is"), row("", "sh", "shop"),
        row("3", "oo", "moon, book"), row("", "ea, igh", "leaf light"),
    )  # fmt: skip
    assert "teach ow as in town, th\n" in text
    assert "teach ow as in grow, s as in is, sh\n" in text
    assert "teach oo as in moon and book, ea as in leaf, igh\n" in text


def test_forms_that_people_write() -> None:
    text = made(
        row("1", "a_e; i–e"), row("", "p e n t"), row("", "CVCC, 2 syllables"), row("", "o as in go, at word end, k")
    )
    assert "structure CVCC, 2 syllables\n" in text
    assert "teach a-e, i-e, p, e, n, t, o as in go, at word end; k\n" in text


def test_capitals_slashes_and_brackets() -> None:
    text = made(row("1", "Mm, E, N", "", "THE, I"), row("", "Sh/ch"), row("2", "oo (moon, book); ai (rain)\nh b, f ll"))
    assert "teach m, e, n, sh, ch\n" in text
    assert "tricky the, I\n" in text
    assert "teach oo as in moon and book, ai as in rain, h, b, f, ll\n" in text


def test_steps_by_number_title_or_both() -> None:
    text = made(row("Step 3: autumn", "p"), row("spring", "t"), row("", "n"), row("7", "m"))
    assert [line for line in text.split("\n") if line.startswith("step")] == [
        'step 3 "autumn"', 'step 4 "spring"', "step 7"
    ]  # fmt: skip


def test_mistakes_are_told_at_their_piece() -> None:
    rows = [
        row("1", "zzq"), row("2", "ow"), row("", "ow", "cat"), row("", "sh", "", "the, the"), row("1", "p"), row("3", "", "cat")
    ]  # fmt: skip
    found = {(p.path, p.excerpt, p.excerpt[p.column - 1 : p.column - 1 + p.width]) for p in draft(rows, "x", ACCENT)[1]}
    assert found == {
        ("cell 1", "zzq", "zzq"), ("cell 1", "ow", "ow"), ("cell 2", "cat", "cat"), ("cell 3", "the, the", "the"),
        ("cell 0", "1", "1"),
    } | {("cell 2", "cat", "cat")}  # fmt: skip


def test_nothing_to_teach() -> None:
    assert [p.what for p in draft([row("1"), row()], "x", ACCENT)[1]] == ["There is nothing to teach here."]
