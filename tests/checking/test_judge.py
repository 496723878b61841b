"""Single decisions of the judgement, each by a word that shows it.

What the words hold is read off by hand, with pronunciations of any British dictionary for learners (from memory).
"""

from __future__ import annotations

import pytest

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.judging.hyphens import pieces
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import Verdict
from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from decodecheck.source import SourceText
from tests.checking.kind import kind

LETTERS = "a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y as in yes, z"


def order_of(rest: str) -> TeachingOrder:
    """Letters at step 1, and then what else is said."""
    order, problems = resolve(f"step 1\n  teach {LETTERS}\n{rest}\n", "x")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    return order


def judged(word: str, rest: str, step: int = 1) -> Verdict:
    return Judge(order_of(rest), step).judge(word)


def checked(text: str, rest: str, step: int = 1) -> TextReport:
    return Checker(Judge(order_of(rest), step)).check(SourceText("x", text))


def graphemes(verdict: Verdict) -> list[str]:
    return [b.grapheme for b in verdict.blockers]


# -- letters, names, senses ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("form", "status"), [("a", "blocked"), ("I", "blocked"), ("O", "blocked"), ("b", "unjudged")])
def test_three_letters_are_words(form: str, status: str) -> None:
    # the schwa, the vowels of my and of go
    assert judged(form, "").status == status


def test_a_name_is_meant_only_with_a_capital() -> None:
    # August has a weak second vowel, august (stately) has the vowel of cup
    rest = "  teach au\nweakened vowels exact"
    assert judged("august", rest).status == "decodable"
    assert (judged("August", rest).status, graphemes(judged("August", rest))) == ("blocked", ["u"])


def test_a_rare_sense_holds_nothing_back() -> None:
    # Job and Reading are rare beside job and reading
    assert judged("job", "").status == judged("Job", "").status == "decodable"


def test_any_variant_of_a_sense_will_do() -> None:
    # again rhymes with ten or with rain, often is said with and without its t
    for sound in ("ai as in rain", "ai as in said"):
        assert judged("again", f"step 2\n  teach {sound}", 2).first_step == 2
    assert judged("again", "step 2\n  teach ai as in rain\nstep 3\n  teach ai as in said", 3).first_step == 2


# -- tricky words --------------------------------------------------------------------------------------------------------


def test_what_is_taught_with_the_tricky_word_is_no_reason_of_its_own() -> None:
    blockers = judged("said", "step 2\n  tricky said\n  teach ai as in said").blockers
    assert [(b.grapheme, b.taught_at, b.cause) for b in blockers] == [("ai", 2, "tricky-later")]
    blockers = judged("said", "step 2\n  teach ai as in said\nstep 3\n  tricky said").blockers
    assert [(b.grapheme, b.taught_at, b.cause) for b in blockers] == [("ai", 2, "taught-later")]


def test_a_blocker_of_another_division_has_its_own_sound() -> None:
    # tired is shown as t ire d; where i-e and r are on the way, the i-e says the vowel of time, without an r
    (blocker,) = judged("tired", "  teach -ed\nstep 2\n  teach i-e").blockers
    assert (blocker.grapheme, blocker.sounds, blocker.as_in) == ("i-e", ("aɪ",), "time")


def test_a_form_of_one_sense_says_nothing_of_the_other() -> None:
    # bathed is of bath (in a tub) or of bathe (in the sea); their vowels differ, and so do the sounds of th
    rest = "  teach -ed\nstep 2\n  tricky bath\nstep 3\n  tricky bathe"
    assert judged("bathed", rest, 1).first_step == 3
    assert judged("bathed", rest, 2).status not in ("tricky", "decodable")
    assert (judged("bathed", rest, 3).status, judged("bathed", rest, 3).tricky_at) == ("tricky", 3)
    # it is bathe that is taught at step 3, bath was before
    assert (judged("bathed", rest, 1).tricky_word, judged("bathed", rest, 1).tricky_at) == ("bathe", 3)
    other = "  teach -ed\nstep 2\n  tricky bathe\nstep 3\n  tricky bath"
    assert (judged("bathed", other, 1).tricky_word, judged("bathed", other, 1).tricky_at) == ("bath", 3)
    # only one of the two is a tricky word: the form is none
    assert judged("bathed", "  teach -ed\nstep 2\n  tricky bath", 1).tricky_at is None


@pytest.mark.parametrize(
    ("word", "tricky"), [("bases", "base"), ("bathed", "bathe"), ("bathed", "bath"), ("learned", "learn")]
)
def test_one_of_two_senses_known_by_a_tricky_word_is_open(word: str, tricky: str) -> None:
    # bases of base and of basis, learned of learn and the adjective: one sense is known, the other never
    rest = f"  teach -s, -ed\nstep 2\n  tricky {tricky}"
    assert judged(word, rest, 1).status == "blocked"
    verdict = judged(word, rest, 2)
    assert (verdict.status, kind(verdict), verdict.first_step) == ("unsure", "undecided-sense", NEVER)
    assert verdict.blockers


def test_a_form_of_a_tricky_word_waits_for_its_ending_only() -> None:
    rest = "step 2\n  tricky friend\nstep 3\n  teach -s\nstep 4\n  structure CCVCC"
    assert [judged("friends", rest, s).status for s in (1, 2, 3)] == ["blocked", "blocked", "tricky"]
    assert judged("friend", rest, 2).status == "tricky"
    assert graphemes(judged("friends", rest, 2)) == ["-s"]
    assert judged("friends", rest, 2).first_step == 3
    assert judged("friends", "step 2\n  tricky friend, friends\nstep 3\n  teach -s", 2).status == "tricky"


def test_the_later_of_two_tricky_words_is_named() -> None:
    for early, late in (("some", "one"), ("one", "some")):
        verdict = judged("someone", f"step 2\n  tricky {early}\nstep 3\n  tricky {late}", 1)
        assert (verdict.first_step, verdict.tricky_word) == (3, late)


def test_a_known_part_does_not_hide_the_structure() -> None:
    verdict = judged("sunset", "step 2\n  structure 2 syllables")
    assert graphemes(verdict) == ["2 syllables"]
    assert kind(verdict) == "untaught-structure"


def test_a_word_that_is_read_names_no_tricky_word() -> None:
    # in a word of known words nothing but a tricky one is left out of what stands in the way
    verdict = judged("sunset", "step 2\n  structure 2 syllables\nstep 3\n  tricky sun")
    assert (verdict.tricky_word, verdict.first_step) == ("", 2)


# -- reasons -------------------------------------------------------------------------------------------------------------


def test_the_last_of_endings_and_structures_gives_the_kind() -> None:
    rest = "step 2\n  {}\nstep 3\n  {}"
    assert kind(judged("stops", rest.format("teach -s", "structure CCVC"))) == "untaught-structure"
    assert kind(judged("stops", rest.format("structure CCVC", "teach -s"))) == "untaught-ending"


def test_a_place_where_it_is_taught_already_is_named_only_if_it_is_earlier() -> None:
    (early,) = judged("hotel", "  teach o as in go, at word end").blockers
    assert early.elsewhere == ("at word end", 1)
    (later,) = judged("open", "step 2\n  teach o as in go, at word start\nstep 3\n  teach o as in go").blockers
    assert (later.taught_at, later.elsewhere) == (2, ("", 0))


def test_the_irregular_letters_are_those_that_are_odd() -> None:
    (odd,) = (b for b in judged("colonel", "").blockers if b.cause == "irregular")
    # what is odd are the letters that say /ɜː/, not the c before them nor the n after
    assert (odd.grapheme, odd.letters) == ("olo", (1, 2, 3))


# -- capitals ------------------------------------------------------------------------------------------------------------


def test_every_capital_of_a_word_in_capitals_counts() -> None:
    rest = "step 2\n  teach N\nstep 3\n  teach A"
    assert [(b.grapheme, b.letters) for b in judged("DAN", rest).blockers] == [("A", (1,)), ("N", (2,))]
    assert [judged("DAN", rest, s).status for s in (1, 2, 3)] == ["blocked", "blocked", "decodable"]
    assert judged("DAN", rest).first_step == 3 and judged("Dan", rest).status == "decodable"
    # one that stands twice is named once, where it stands first
    assert [(b.grapheme, b.letters) for b in judged("NUN", rest).blockers] == [("N", (0,))]


def test_the_tricky_word_i_brings_its_capital() -> None:
    rest = "step 2\n  tricky I\nstep 3\n  teach sh\ncapitals from step 3"
    assert [judged("I", rest, s).status for s in (1, 2)] == ["blocked", "tricky"]
    assert judged("I", rest).first_step == 2
    assert judged("It", rest, 2).status == "blocked"


def test_short_capitals_that_are_no_word_are_an_abbreviation() -> None:
    assert [judged(form, "").status for form in ("BBC", "XQZVB", "XQZVBG")] == ["unjudged", "unjudged", "unsure"]


# -- hyphens and stretched words -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("form", "expected"),
    [
        ("b-b-but", ["but"]),
        ("str-street", ["street"]),  # three letters are a stutter
        ("well-wellness", ["well", "wellness"]),  # four are a word
        ("but-b-but", ["but", "b", "but"]),  # no stutter: the parts before the last are not one
        ("too-o-o", ["too"]),
        ("zqo-o-o", ["zqo", "o", "o"]),  # nothing known is drawn out
        ("sp-la-sh", ["splash"]),
        ("sun-set", ["sun", "set"]),  # a known word of known words: each is read
        ("kit-ch-en", ["kitchen"]),  # one of its pieces is none
        ("one-eyed", ["one", "eyed"]),
    ],
)
def test_what_of_a_hyphenated_word_is_judged(form: str, expected: list[str]) -> None:
    assert [p.form(form) for p in pieces(plain_spelling(form), Lookup("southern-british"))] == expected


def test_a_hyphenated_word_waits_for_all_its_parts() -> None:
    rest = "step 2\n  teach sh\nstep 3\n  teach ee"
    for form in ("shop-sheep", "sheep-shop"):
        verdict = judged(form, rest)
        assert (verdict.status, verdict.first_step) == ("blocked", 3)
        assert [b.letters for b in verdict.blockers if b.grapheme == "ee"] == [(form.index("ee"), form.index("ee") + 1)]
    # what is surely blocked counts for more than what is not known
    assert judged("zofk-sheep", rest).status == judged("sheep-zofk", rest).status == "blocked"


def test_a_tricky_word_with_a_hyphen_may_be_read_before() -> None:
    rest = "step 2\n  teach sh\nstep 3\n  tricky shop-man"
    assert judged("shop-man", rest, 1).first_step == 2
    assert judged("shop-man", "step 2\n  tricky shop-man\nstep 3\n  teach sh", 1).first_step == 2


@pytest.mark.parametrize(
    ("form", "word"),
    [("Sooooo", "so"), ("goood", "good"), ("sooon", "soon"), ("noooo", "no"), ("yesss", "yes"), ("grrreat", "great")],
)
def test_a_stretched_word_is_the_commonest_that_fits(form: str, word: str) -> None:
    # commonest by wordfreq; goood is sooner good than god
    assert Lookup("southern-british").find(plain_spelling(form)).word == word


# -- counting and places -------------------------------------------------------------------------------------------------

BOW = "  teach th, sh, ng, er\n  tricky he, to, the, she, arrow\nstep 2\n  teach ow as in grow\nstep 3\n  teach ow as in town"
BOWS = "She had a bow and arrow. He had to bow to the king."


def test_a_count_keeps_the_sense() -> None:
    report = checked(BOWS, BOW)
    senses = {o.sense: o.times for o in report.occurrences if o.form == "bow"}
    assert senses == {"weapon": 1, "greeting": 1} or (
        len(senses) == 2 and set(senses.values()) == {1} and "" not in senses
    )
    assert report.running["bow"] == 2
    assert report.distinct["bow"].first_step == 3


def test_a_word_is_counted_once_where_a_line_end_divides_it() -> None:
    report = checked("Sad rab-\nbit sat. Bit.", "")
    assert dict(report.running) == {"sad": 1, "rabbit": 1, "sat": 1, "bit": 1}
    # not where the next line starts with a capital
    assert dict(checked("Sad rab-\nBit sat.", "").running)["bit"] == 1


def test_the_worst_place_of_a_word_stands_for_it() -> None:
    # a capital that comes later, before and after the word without it
    ship = "step 2\n  teach sh\nstep 3\n  teach S"
    for text in ("ship Ship", "Ship ship"):
        (word,) = checked(text, ship).distinct.values()
        assert (word.status, word.first_step, word.form) == ("blocked", 3, "Ship")
    # what is open counts for more than what is blocked, and its step is still that of every place
    read = "  teach ea as in leaf, we\nstep 2\n  teach ea as in head\nstep 4\n  teach R".replace(", we", "")
    for text in ("Read! We read.", "We read. Read!"):
        word = checked(text, read).distinct["read"]
        assert (word.status, word.first_step, word.form) == ("unsure", 4, "read")


def test_letters_that_a_line_end_moves() -> None:
    order, _ = resolve("step 1\n  teach a, i, r, s, t\nstep 2\n  teach b\n", "x")
    (finding,) = Checker(Judge(order, 1)).check(SourceText("x", "rab-\nbit sat")).findings
    ((blocker),) = finding.blockers
    assert [finding.word[i] for i in blocker.letters] == ["b", "b"]
    assert blocker.letters == (2, 5)


def test_a_name_after_a_closing_mark_starts_a_sentence() -> None:
    rest = "  teach -s\n"
    kinds = {text: [f.kind for f in checked(text, rest).findings if f.word == "Zofkin"] for text in (
        "Dad sat. Zofkin sat.", '"Dad sat." Zofkin sat.', "Dad met\nZofkin.", "Dad sat\n\nZofkin sat", "Dad met Zofkin."
    )}  # fmt: skip
    assert list(kinds.values()) == [
        ["unlisted-word"], ["unlisted-word"], ["unlisted-name"], ["unlisted-word"], ["unlisted-name"]
    ]  # fmt: skip


def test_what_the_program_took_a_form_for_is_said() -> None:
    (finding,) = checked("Niiiiight.", "").findings
    assert "Read as “night”." in finding.message
    found = [f.message for f in checked(BOWS, BOW).findings if f.word == "bow"]
    assert len(found) == 2 and all("By the words around it" in message for message in found) and found[0] != found[1]


def test_first_steps_past_the_last_are_never() -> None:
    assert judged("sheep", "").first_step == NEVER
