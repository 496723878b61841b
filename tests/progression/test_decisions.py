"""Single decisions about what a progression means: what a name stands for, what holds where something is said twice, what a
group's clause takes from the class and what it leaves. Sounds are those of any British dictionary for learners (from memory)."""

from __future__ import annotations

from pathlib import Path

import pytest

from decodecheck.errors import UserError
from decodecheck.judging.judge import Judge
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.progression.meanings import choices
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve, spans
from decodecheck.progression.step_expression import Standing, Wanted, choose_step

LETTERS = "a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y as in yes, z"


def order_of(rest: str) -> TeachingOrder:
    order, problems = resolve(f"step 1\n  teach {LETTERS}\n{rest}\n", "x")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    return order


def first(word: str, rest: str) -> int:
    order = order_of(rest)
    return Judge(order, order.last).judge(word).first_step


def mistakes(text: str) -> list[str]:
    return [p.what for p in resolve(text, "x")[1]]


# -- what a name stands for ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("grapheme", "word"), [("ea", "leaf"), ("c", "cup"), ("ch", "chip"), ("o", "hot"), ("a", "cat")]
)
def test_the_commonest_sound_is_offered_first(grapheme: str, word: str) -> None:
    # common practice, no source
    assert choices(grapheme, "southern-british")[0].key_word == word


def test_a_combination_is_the_one_of_its_key_word() -> None:
    rest = "  teach a as in baby\nstep 2\n  together tion\nstep 3\n  teach tion as in question"
    assert (first("station", rest), first("question", rest)) == (2, 3)
    assert first("question", "  teach a as in baby\nstep 2\n  together tion") == NEVER


def test_combinations_that_sound_alike_are_one() -> None:
    # the wa of wasp has in Britain the vowel of hot; was has it too
    assert first("was", "  teach s as in is\nstep 2\n  together wa") == 2


def test_what_is_taught_again_keeps_its_first_step() -> None:
    rest = "step 2\n  teach th as in thin\nstep 3\n  teach th"
    assert (first("thin", rest), first("this", rest)) == (2, 3)


def test_one_lesson_may_teach_more_than_an_earlier_one() -> None:
    # the later lesson has a sound of its own, so it is no repetition
    assert mistakes("step 1\n  teach th as in thin\nstep 2\n  teach th\n") == []
    assert len(mistakes("step 1\n  teach th\nstep 2\n  teach th as in thin\n")) == 1


def test_a_word_with_two_sounds_names_none() -> None:
    (mistake,) = mistakes("step 1\n  teach ea as in read\n")
    assert mistake == "`ea` has more than one sound in `read`."
    # of a word with a rare sense, the usual one is meant: Job is rarer than job
    assert mistakes("step 1\n  teach o as in job\n") == []


def test_what_is_taught_as_it_stands_has_no_place() -> None:
    assert mistakes("step 1\n  teach -ing, at word end\n") == ["`-ing` is an ending, which is taught without a place."]


def test_doubled_letters_wait_for_what_names_them() -> None:
    rest = "step 2\n  teach ff\nstep 3\n  teach sh\ndoubled letters from step 3"
    assert (first("puff", rest), first("bell", rest)) == (2, 3)
    # one that is named for one sound says nothing of another
    assert first("kiss", "step 2\n  teach ss as in scissors") == 1


def test_silent_e_waits_only_where_it_is_named() -> None:
    soft = "  teach c as in city"
    assert first("fence", soft) == 1
    assert first("fence", f"{soft}\nstep 2\n  teach ce") == 2
    assert first("face", f"  teach a-e\n{soft}") == 1
    assert first("face", "  teach a-e\nstep 2\n  teach ce") == 2


def test_the_weak_vowel_before_l_waits_only_where_it_is_named() -> None:
    assert first("metal", "") == 1
    assert first("metal", "step 2\n  teach al as in metal") == 2
    assert first("camel", "step 2\n  teach al as in metal") == 1
    assert first("metal", "step 2\n  teach al as in metal\nweakened vowels exact") == 2
    assert first("metal", "weakened vowels exact") == NEVER


def test_n_before_k_waits_only_where_it_is_named() -> None:
    assert first("pink", "") == 1
    for lesson in ("together nk", "teach n as in sink"):
        assert first("pink", f"step 2\n  {lesson}") == 2


@pytest.mark.parametrize(
    ("word", "step"), [("stop", 2), ("strap", 3), ("trap", 3), ("string", 4), ("tent", 4), ("tenth", 1)]
)
def test_adjacent_consonants_wait_for_all_that_is_named(word: str, step: int) -> None:
    rest = "  teach th\nstep 2\n  teach st\nstep 3\n  teach tr\nstep 4\n  teach ng, nt"
    assert first(word, rest) == step


@pytest.mark.parametrize(("word", "step"), [("rabbit", 1), ("plastic", 3), ("sat", 2), ("it", 1), ("stop", 3)])
def test_named_structures_hold_back_what_holds_them(word: str, step: int) -> None:
    # in a longer word only adjacent consonants count, so that CVC says nothing of rabbit
    assert first(word, "step 2\n  structure CVC\nstep 3\n  structure CCVC") == step


# -- what holds where something is said twice ------------------------------------------------------------------------------


def test_a_title_may_come_later(tmp_path: Path) -> None:
    order, problems = resolve('step 1\n  teach a\nstep 2\n  teach t\nstep 1 "first"\n', "x")
    assert [s.title for s in order.steps] == ["first", ""] and problems
    (tmp_path / "base.progression").write_text("step 1\n  teach a\n", encoding="utf-8")
    top = tmp_path / "top.progression"
    top.write_text('include "base.progression"\nstep 1 "autumn"\n  teach t\nstep 2\n  teach s\n', encoding="utf-8")
    assert [s.title for s in load(str(top)).steps] == ["autumn", ""]


@pytest.mark.parametrize("statement", ["capitals from step 9", "doubled letters from step 9"])
def test_a_setting_names_a_step_that_is_there(statement: str) -> None:
    assert mistakes(f"step 1\n  teach a\nstep 2\n  teach t\n{statement}\n") == ["There is no step 9."]


def test_rising_numbers_in_short() -> None:
    assert spans([1, 2, 3, 7]) == "1 to 3, 7"
    assert spans([1, 2, 5]) == "1, 2, 5"
    assert spans([4]) == "4"


def test_a_missing_number_is_asked_for_only_where_one_is_missing() -> None:
    def remedy(numbers: tuple[int, ...]) -> str:
        steps = "\n".join(f"step {n}\n  teach {letter}" for n, letter in zip(numbers, "patinms"))
        return resolve(f"{steps}\n", "x")[1][0].todo

    assert remedy((1, 2, 9, 4, 5)) == "Is 3 meant? Number steps upwards."
    assert not remedy((1, 2, 9, 6, 7)).startswith("Is 3 meant?")


# -- groups ----------------------------------------------------------------------------------------------------------------

CLASS = "step 2\n  teach o as in go, at word end\nstep 3\n  teach o as in go\nstep 4\n  teach D, sh\n  tricky said"


def group(expression: str, rest: str = CLASS) -> Standing:
    return choose_step(order_of(rest), Wanted(expression))


def reads(standing: Standing, word: str) -> bool:
    return Judge(standing.order, standing.step).judge(word).status in ("decodable", "tricky")


def test_a_group_may_stand_at_the_first_step() -> None:
    assert group("4 lag 3").step == 1
    with pytest.raises(UserError) as caught:
        group("4 lag 4")
    assert caught.value.problems[0].todo == "There are 3 before it; write a smaller number."


def test_lag_said_twice_is_one_message() -> None:
    with pytest.raises(UserError) as caught:
        group("4 lag 1 lag 1")
    assert [p.what for p in caught.value.problems] == ["`lag` is said twice."]


def test_also_leaves_what_is_taught_at_its_step() -> None:
    standing = group("2 also o as in go")
    assert not standing.notes and reads(standing, "most")
    # what the class knows from an earlier step on stays there, though the rest of the lesson is put at the group's
    rest = CLASS.replace("step 3\n", "step 3\n  teach th\nstep 4\n").replace("step 4\n  teach D", "step 5\n  teach D")
    later = group("3 also o as in go", rest)
    assert (later.order.item_step[Item("gpc|o|GOAT|e")], later.order.item_step[Item("gpc|o|GOAT|m")]) == (2, 3)
    assert [Judge(later.order, 3).judge(w).first_step for w in ("go", "most")] == [2, 3]


def test_also_of_what_is_partly_taught_changes_the_rest() -> None:
    standing = group("3 also th", "step 2\n  teach th as in thin\nstep 3\n  teach sh\nstep 4\n  teach th as in this")
    assert not standing.notes and reads(standing, "this")
    assert standing.order.item_step[Item("gpc|th|th|s")] == 2


def test_except_takes_only_what_has_been_taught() -> None:
    standing = group("2 except o as in go")
    assert standing.order.item_step[Item("gpc|o|GOAT|e")] == NEVER
    # what comes at step 3 is no exception: the group will learn it with its class
    assert standing.order.item_step[Item("gpc|o|GOAT|m")] == 3
    assert not reads(standing, "go") and first("most", CLASS) == 3
    assert Judge(standing.order, 4).judge("most").first_step == 3


def test_except_takes_a_capital() -> None:
    assert reads(group("4"), "Dad") and not reads(group("4 except D"), "Dad")
    (blocker,) = Judge(group("4 except D").order, 4).judge("Dad").blockers
    assert (blocker.grapheme, blocker.taught_at, blocker.cause) == ("D", 4, "excepted")


def test_a_group_forgets_what_was_worked_out_for_the_class() -> None:
    order = order_of(CLASS)
    assert Judge(order, 4).judge("shop").status == Judge(order, 4).judge("ship").status == "decodable"
    standing = choose_step(order, Wanted("4 except sh"))
    assert Judge(standing.order, 4).judge("shop").status == "blocked"
    assert Judge(order, 4).judge("shop").status == "decodable"


# -- pinned words ----------------------------------------------------------------------------------------------------------


def test_forms_of_a_pinned_word_follow_it() -> None:
    # the school's own reading of cat; cats is listed
    rest = "word cat = c + a /eɪ/ + t\nstep 2\n  teach a as in baby"
    assert (first("cat", rest), first("cats", rest)) == (2, 2)


def test_a_pinned_sound_is_read_by_its_longest_signs() -> None:
    order = order_of("word Zerh = z + erh /eə/\nword Zerhk = z + erhk /eək/")
    assert order.pinned["zerh"].segments[1].sound == ("SQUARE",)
    assert order.pinned["zerhk"].segments[1].sound == ("SQUARE", "k")


def test_a_pinned_grapheme_alone_says_what_a_lesson_of_it_teaches() -> None:
    # y alone is the y of yes, though that of funny is commoner
    assert order_of("word Yad = y + a + d").pinned["yad"].segments[0].sound == ("y",)


def test_a_pinned_word_may_have_an_apostrophe() -> None:
    assert [s.grapheme for s in order_of("word D'Arcy = d + ar + c + y").pinned["d'arcy"].segments] == [
        "d",
        "ar",
        "c",
        "y",
    ]


@pytest.mark.parametrize(
    ("pin", "form", "graphemes"),
    [
        ("word Fraze = f + r + a-e + z", "frazes", "f r a z es"),
        ("word Zog = z + o + g", "zogging", "z o gg i ng"),
        ("word Zime = z + i-e + m", "zimed", "z i m ed"),
        ("word Zoppy = z + o + pp + y", "zoppier", "z o pp i er"),
        ("word Zog = z + o + g", "zogs'", "z o g s"),
        ("word Morse = m + or + se", "morses", "m or s es"),
        ("word Jose = j + o + s + e /-/", "joses", "j o s es"),
    ],
)
def test_how_an_ending_leaves_a_pinned_word(pin: str, form: str, graphemes: str) -> None:
    lookup = Lookup("southern-british", order_of(pin).pinned)
    (reading,) = lookup.readings(form)
    assert sorted(i for s in reading.segments for i in s.letters) == list(range(len(form.removesuffix("'"))))
    assert " ".join(s.grapheme for s in reading.segments if s.grapheme != "'") == graphemes


# -- words that no dictionary lists ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("word", "graphemes"),
    [("dogs'", "d o g s"), ("goin'", "g o i n"), ("teapottish", ""), ("catnests", "c a t n e s t s")],
)
def test_what_follows_from_known_words(word: str, graphemes: str) -> None:
    readings = Lookup("southern-british").readings(word)
    found = " ".join(s.grapheme for s in readings[0].segments) if readings else ""
    assert found == graphemes


@pytest.mark.parametrize(("word", "parts"), [("seatrap", ["sea", "trap"]), ("toystall", ["toys", "tall"])])
def test_an_unlisted_compound_divides_where_its_rarer_half_is_commoner(word: str, parts: list[str]) -> None:
    # by wordfreq, rap is rarer than sea and trap, and stall rarer than toys and tall
    (reading,) = Lookup("southern-british").readings(word)
    assert [part.word for part in reading.parts] == parts


def test_a_hyphenated_word_is_explained_from_parts_as_they_stand() -> None:
    lookup = Lookup("southern-british")
    (joined,) = lookup.joined(plain_spelling("one-eyed")).readings
    assert sorted(i for s in joined.segments for i in s.letters) == list(range(len("one-eyed")))
    # a part that is stretched has letters which its reading does not cover
    assert lookup.joined(plain_spelling("sooooo-big")).readings == ()
