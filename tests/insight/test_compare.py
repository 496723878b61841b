"""Comparing progressions: what moved, what is gained and lost, which texts break; renamed steps are no changes."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.cli.main import run
from decodecheck.insight.compare import TextChange, compare
from decodecheck.over_texts import compare_texts
from decodecheck.session import Session

from .demo import DEMO, HARBOUR, harbour, order_of

TEXT = HARBOUR.read_text(encoding="utf-8")


def renumbered(text: str, number: int, by: int, title: str = "") -> str:
    """The text with all steps from a number on moved by some, that one retitled."""

    def one(match: re.Match[str]) -> str:
        n = int(match[1])
        if n < number:
            return match[0]
        return f"step {n + by}" + (f' "{title}"' if n == number and title else match[2])

    return re.sub(r"^step (\d+)(.*)$", one, text, flags=re.MULTILINE)


def test_a_progression_is_like_itself() -> None:
    found = compare(harbour(), harbour())
    assert not (found.moved or found.steps or found.renumbered or found.dropped or found.added or found.settings)


@settings(max_examples=15, deadline=None)
@given(st.integers(1, 27), st.integers(1, 40), st.sampled_from(["", "a new name"]))
def test_renumbered_and_renamed_steps_are_matched(number: int, by: int, title: str) -> None:
    old, new = harbour(), order_of(renumbered(TEXT, number, by, title))
    found = compare(old, new)
    assert found.matched == {n: n + (by if n >= number else 0) for n in range(1, 28)}
    assert not (found.moved or found.steps or found.dropped or found.added)
    assert len(found.renumbered) == 28 - number


def test_a_lesson_that_moves() -> None:
    new = TEXT.replace("  teach ow as in town\n", "").replace("  teach ay, oy\n", "  teach ay, oy, ow as in town\n")
    found = compare(harbour(), order_of(new))
    assert [(m.name, m.old, m.new) for m in found.moved] == [("ow as in town", 18, 22)]
    assert [s.old for s in found.steps] == [18, 19, 20, 21]
    assert "town" in found.steps[0].lost and not found.steps[0].gained


def test_one_sound_of_two_moves() -> None:
    new = TEXT.replace("oo as in spoon and good", "oo as in spoon").replace(
        "teach ay, oy", "teach ay, oy, oo as in good"
    )
    found = compare(harbour(), order_of(new))
    assert [(m.name, m.old, m.new) for m in found.moved] == [("oo as in book", 15, 22)]


def test_lessons_and_words_that_come_and_go() -> None:
    new = TEXT.replace(", ph", "").replace("tricky school, aunt", "tricky aunt, Friday").replace("step 27", "step 27")
    found = compare(harbour(), order_of(new))
    assert {(m.name, m.old, m.new) for m in found.moved} == {
        ("ph as in dolphin", 27, None), ("tricky school", 27, None), ("tricky Friday", None, 27)
    }  # fmt: skip


def test_what_is_gained_one_way_is_lost_the_other() -> None:
    other = order_of(TEXT.replace("teach le, ph", "teach ph").replace("teach sh, ch", "teach sh, ch, le"))
    there, back = compare(harbour(), other), compare(other, harbour())
    assert [(s.old, s.gained, s.lost) for s in there.steps] == [(s.old, s.lost, s.gained) for s in back.steps]


def test_settings() -> None:
    old = order_of("accent southern-british\nstep 1\n  teach a\nallow names Tilda\n")
    new = order_of(
        "accent northern-english\nstep 1\n  teach a\nallow names Omar\nweakened vowels exact\ncapitals from step 1\n"
    )
    assert compare(old, new).settings == (
        "accent: southern-british, now northern-english", "capitals from step: none, now 1",
        "weakened vowels exact: no, now yes", "names allowed, added: Omar", "names allowed, taken out: Tilda",
    )  # fmt: skip


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """The demo, with a changed progression beside the old one: ow as in town is taught later, steps are renumbered."""
    for file in DEMO.rglob("*"):
        if file.is_file():
            target = tmp_path / file.relative_to(DEMO)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(file.read_bytes())
    changed = TEXT.replace("  teach ow as in town\n", "").replace("teach ay, oy", "teach ay, oy, ow as in town")
    (tmp_path / "new.progression").write_text(renumbered(changed, 10, 1), encoding="utf-8")
    return tmp_path


def test_texts_are_compared_at_the_step_they_declare(school: Path) -> None:
    old, new = str(school / "harbour-lane.progression"), str(school / "new.progression")
    texts = compare_texts(Session(), old, new, str(school / "texts")).changes
    changes = [t for t in texts if isinstance(t, TextChange)]
    assert [(Path(t.path).name, t.old_step, t.new_step, t.broken) for t in changes] == [
        ("a-ticket-for-nettle.txt", 20, 21, True)
    ]
    assert [(w.word, w.before, w.after) for w in changes[0].words] == [
        (w, "decodable", "blocked") for w in ("cows", "frowned", "town")
    ]


@pytest.mark.parametrize(("swap", "code"), [(False, 1), (True, 0)])
def test_exit_code(school: Path, swap: bool, code: int, capsys: pytest.CaptureFixture[str]) -> None:
    names = [str(school / "harbour-lane.progression"), str(school / "new.progression")]
    if swap:
        # the other way the text becomes clean
        for file in sorted((school / "texts").glob("step-*"), reverse=True):
            number = int(file.name.removeprefix("step-"))
            if number >= 10:
                file.rename(file.with_name(f"step-{number + 1}"))
        names.reverse()
    assert run(["progression", "compare", *names, "--texts", str(school / "texts")]) == code
    assert "compared" in capsys.readouterr().out


def test_an_unreadable_text_outranks_a_broken_one(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "texts" / "step-20" / "bad.txt").write_bytes(b"caf\xe9 \xff")
    names = [str(school / "harbour-lane.progression"), str(school / "new.progression")]
    assert run(["progression", "compare", *names, "--texts", str(school / "texts")]) == 2
    assert "cannot be read" in capsys.readouterr().err


def test_a_step_with_clauses_is_compared_with_them(school: Path) -> None:
    (school / "decodecheck.toml").write_text(
        'progression = "harbour-lane.progression"\nstep = "20 also ow as in town"\n', encoding="utf-8"
    )
    old, new = str(school / "harbour-lane.progression"), str(school / "new.progression")
    texts = compare_texts(Session(), old, new, str(school / "texts" / "step-20")).changes
    assert texts == []


def steps() -> tuple[str, list[str], str]:
    """The demo's progression as its head, its steps, and what follows them."""
    head, *rest = re.split(r"^(?=step \d+)", TEXT, flags=re.MULTILINE)
    last, mark, tail = rest[-1].partition("\nallow")
    return head, [*rest[:-1], last], mark + tail


def body(step: str) -> str:
    return step.split("\n", 1)[1]


def built(parts: list[str], *, number: bool = False) -> str:
    head, _, tail = steps()
    if number:
        parts = [re.sub(r"^step \d+", f"step {n}", part) for n, part in enumerate(parts, 1)]
    return head + "".join(f"{p.rstrip()}\n" for p in parts) + tail


@pytest.mark.parametrize("number", [False, True])
def test_joined_steps(number: bool) -> None:
    _, s, _ = steps()
    found = compare(harbour(), order_of(built([*s[:13], s[13] + body(s[14]), *s[15:]], number=number)))
    assert (found.matched[14], found.matched[15], found.stands[14]) == (14, 14, 14)
    assert not (found.moved or found.dropped or found.added)


def test_a_divided_step_is_finished_with_its_last_part() -> None:
    _, s, _ = steps()
    at = s[7].index("  teach -s")
    parts = [
        *s[:7],
        s[7][:at],
        "step 9\n" + s[7][at:],
        *(re.sub(r"^step (\d+)", lambda m: f"step {int(m[1]) + 1}", p) for p in s[8:]),
    ]
    found = compare(harbour(), order_of(built(parts)))
    assert (found.matched[8], found.stands[8], found.stands[9]) == (8, 9, 10)
    assert not (found.moved or found.steps or found.added)


def test_steps_that_change_places_keep_their_numbers() -> None:
    _, s, _ = steps()
    found = compare(harbour(), order_of(built([*s[:13], s[14], s[13], *s[15:]], number=True)))
    assert (found.matched[14], found.matched[15]) == (14, 15)
    assert ("ee as in tree", 14, 15) in [(m.name, m.old, m.new) for m in found.moved]
    assert "see" in found.steps[0].lost and "good" in found.steps[0].gained


def test_a_step_that_moves_far() -> None:
    _, s, _ = steps()
    found = compare(harbour(), order_of(built([*s[:4], *s[5:9], s[4], *s[9:]], number=True)))
    assert [found.stands[n] for n in (4, 5, 6, 9, 10)] == [4, 4, 5, 8, 10]
    assert (found.dropped, found.added) == ((5,), (9,))


def test_a_dropped_tricky_word_is_named_as_one(school: Path) -> None:
    (school / "new.progression").write_text(TEXT.replace("tricky my, said", "tricky my"), encoding="utf-8")
    names = [str(school / f) for f in ("harbour-lane.progression", "new.progression")]
    texts = compare_texts(Session(), names[0], names[1], str(school / "texts" / "step-16")).changes
    (change,) = [t for t in texts if isinstance(t, TextChange)]
    assert [(w.word, w.reason.split(".")[0]) for w in change.words] == [("said", "no longer a tricky word")]


def test_another_accent_moves_no_lesson() -> None:
    found = compare(harbour(), order_of(TEXT.replace("accent southern-british", "accent general-american")))
    assert found.moved == ()
    assert found.settings == ("accent: southern-british, now general-american",)


def test_what_standard_input_includes_is_said_to_be_as_it_is_now(
    school: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(school)
    Path("year-1.progression").write_text("step 1\n  teach a, t\n", encoding="utf-8")
    including = 'include "year-1.progression"\nstep 2\n  teach n\n'
    Path("year-2.progression").write_text(including, encoding="utf-8")
    for text, told in ((including, True), (including.partition("\n")[2], False)):
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
        assert run(["progression", "compare", "-", "year-2.progression"]) == 0
        note = "note: the files that standard input includes are read as they are now, not as they were."
        assert (note in capsys.readouterr().err) == told


def test_two_accents_are_both_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, accent in (("old", "southern-british"), ("new", "scottish")):
        (tmp_path / f"{name}.progression").write_text(f"accent {accent}\nstep 1\n  teach a, t\n", encoding="utf-8")
    run(["progression", "compare", str(tmp_path / "old.progression"), str(tmp_path / "new.progression")])
    assert "in southern-british before and scottish now" in " ".join(capsys.readouterr().out.split())


def test_texts_of_another_progression_are_left_out(tmp_path: Path) -> None:
    for name, taught in (("one", "a, t"), ("other", "a, t"), ("new", "a")):
        (tmp_path / f"{name}.progression").write_text(
            f"step 1\n  teach {taught}\nstep 2\n  teach p\n", encoding="utf-8"
        )
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "a.txt").write_text("at\n", encoding="utf-8")
        (tmp_path / name / "decodecheck.toml").write_text(
            f'progression = "../{name}.progression"\nstep = 1\n', encoding="utf-8"
        )
    (tmp_path / "decodecheck.toml").write_text("step = 1\n", encoding="utf-8")
    found = compare_texts(
        Session(), str(tmp_path / "one.progression"), str(tmp_path / "new.progression"), str(tmp_path)
    )
    assert not found.failures
    assert [Path(change.path).parent.name for change in found.changes] == ["one"]
    assert (found.compared, found.elsewhere) == (1, 1)
