"""Every word that rules/SWITCHES.md says a switch changes."""

import pytest

from decodecheck.judging.judge import Judge
from decodecheck.progression.resolve import resolve

LETTERS = "a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y, z, ck, sh, th, ch, ng, er, u-e"
READS = ("decodable", "tricky", "allowed")


def reads(word: str, rest: str, step: int = 1, accent: str = "southern-british") -> bool:
    order, problems = resolve(f"accent {accent}\nstep 1\n  teach {LETTERS}\n{rest}\n", "x")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    return Judge(order, step).judge(word).status in READS


@pytest.mark.parametrize("word", ["bath", "path", "grass", "last", "fast", "put", "push", "full"])
def test_northern_english(word: str) -> None:
    # past, last, fast, path, bath: England's national curriculum, English Appendix 1, year 2
    assert reads(word, "", accent="northern-english")
    assert not reads(word, "")


def test_american_vowels() -> None:
    assert reads("bath", "", accent="general-american")
    off = "step 2\n  teach o as in off"
    order, problems = resolve(
        "accent general-american\nstep 1\n  teach o as in hot\nstep 2\n  teach o as in off\n", "x"
    )
    assert not problems and order.last == 2
    _, problems = resolve("accent southern-british\nstep 1\n  teach o as in hot\n" + off + "\n", "x")
    assert len(problems) == 1


def test_scottish_vowels_before_r() -> None:
    # Wells, Accents of English, 1982 (from memory): fern, bird, turn may keep three vowels in Scotland
    text = "accent scottish\nstep 1\n  teach er as in her\nstep 2\n  teach ir, ur\n"
    order, problems = resolve(text, "x")
    assert not problems
    assert Judge(order, 2).judge("bird").blockers[0].sounds != Judge(order, 2).judge("turn").blockers[0].sounds


@pytest.mark.parametrize("word", ["seven", "lemon", "salad", "rabbit"])
def test_weakened_vowels(word: str) -> None:
    assert reads(word, "")
    assert not reads(word, "weakened vowels exact") or word == "rabbit"


@pytest.mark.parametrize("word", ["famous", "mountain", "the", "a"])
def test_never_weakened(word: str) -> None:
    assert not reads(word, "step 2\n  teach ee")


@pytest.mark.parametrize(
    ("word", "there"),
    [
        ("go", True), ("no", True), ("going", True), ("nobody", True), ("cold", False), ("most", False), ("won't", False),
        ("don't", False),
    ],
)  # fmt: skip
def test_position(word: str, there: bool) -> None:
    assert reads(word, "  teach o as in go, at word end; y as in funny") == there
    assert reads(word, "  teach o as in go; y as in funny")


@pytest.mark.parametrize(
    ("word", "step"),
    [
        ("box", 1), ("quick", 1), ("ship", 1), ("cube", 1), ("cats", 1), ("stop", 2), ("stamp", 3), ("hand", 3), ("flapjack", 4),
        ("rabbit", 4), ("cabinet", 4),
    ],
)  # fmt: skip
def test_structures(word: str, step: int) -> None:
    rest = "step 2\n  structure CCVC\nstep 3\n  structure CVCC\nstep 4\n  structure 2 syllables"
    assert [reads(word, rest, s) for s in (1, 2, 3, 4)] == [s >= step for s in (1, 2, 3, 4)]


@pytest.mark.parametrize(("word", "step"), [("stop", 2), ("string", 2), ("spot", 1)])
def test_adjacent_consonants(word: str, step: int) -> None:
    assert [reads(word, "step 2\n  teach st", s) for s in (1, 2)] == [s >= step for s in (1, 2)]


def test_doubled_consonants() -> None:
    for word in ("rabbit", "egg", "bell", "puff"):
        assert reads(word, "")
        assert not reads(word, "step 2\n  teach ee\ndoubled letters from step 2")
    assert not reads("puff", "step 2\n  teach ff")
    assert reads("bell", "step 2\n  teach ff")


def test_n_before_k() -> None:
    for mention in ("together nk", "teach n as in sink"):
        assert not reads("pink", f"step 2\n  {mention}")
        assert reads("finger", f"step 2\n  {mention}")
    assert reads("pink", "")


def test_capitals() -> None:
    assert reads("Dan", "")
    assert not reads("Dan", "step 2\n  teach ee\ncapitals from step 2")
    assert not reads("Dan", "step 2\n  teach D") and reads("Sam", "step 2\n  teach D")


@pytest.mark.parametrize(
    ("word", "taught", "there"),
    [
        ("dogs", "", True), ("hunted", "", True), ("jumped", "", False), ("jumped", "teach -ed", True), ("running", "teach -ing", True),
        ("making", "teach a-e, -ing", True), ("making", "teach -ing", False), ("carried", "teach y as in funny; -ed", True),
        ("bus", "", True), ("red", "", True), ("sing", "", True),
    ],
)  # fmt: skip
def test_endings(word: str, taught: str, there: bool) -> None:
    assert reads(word, f"  {taught}" if taught else "") == there


@pytest.mark.parametrize(
    ("lesson", "gym", "funny", "cry", "yes"),
    [
        ("y as in yes", False, False, False, True),
        ("y as in gym", True, False, False, False),
        ("y as in funny", False, True, False, False),
        ("y as in cry", False, False, True, False),
    ],
)
def test_one_sound_of_y_is_not_another(lesson: str, gym: bool, funny: bool, cry: bool, yes: bool) -> None:
    # the key words are those of the lessons, said as any dictionary of British English has them
    order, problems = resolve(
        f"step 1\n  teach a, b, c, d, e, f, g, h, i, m, n, p, r, s, t, u, g as in gem, {lesson}\n", "x"
    )
    assert not problems
    judged = {w: Judge(order, 1).judge(w).status == "decodable" for w in ("gym", "funny", "happy", "cry", "yes")}
    assert judged == {"gym": gym, "funny": funny, "happy": funny, "cry": cry, "yes": yes}


def test_no_endings() -> None:
    gates = "step 2\n  teach -s, -ed, -ing, -er"
    for word in ("bus", "red", "sing"):
        assert reads(word, gates)
    for word in ("dogs", "hunted", "running"):
        assert not reads(word, gates)


def test_names_and_sounds() -> None:
    for form in ("Tilda", "Tilda's", "TILDA", "brrr", "brrrrr"):
        assert reads(form, "allow names Tilda\nallow sounds brrr")
