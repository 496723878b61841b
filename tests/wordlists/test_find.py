"""Lists hold what was asked for, and nothing else."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import pytest
import wordfreq

from decodecheck.errors import UserError
from decodecheck.judging.judge import judge_at
from decodecheck.judging.verdict import DECODABLE
from decodecheck.lexicon.items import ENDING, SINGLE, UNNAMED, WEAKENED
from decodecheck.phonics.sounds import project
from decodecheck.progression.meanings import projected
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from decodecheck.wordlists.find import find
from decodecheck.wordlists.left_out import ALWAYS, KINDS, looks_joined
from decodecheck.wordlists.shown import shown_segments, structure
from decodecheck.wordlists.wanted import WantedWords, range_of
from tests.wordlists.asking import ROOT, everything, found, harbour, order_at, plain_words, words

TARGETS = [
    ("sh", 12), ("ee", 14), ("igh", 20), ("ow as in town", 22), ("ow as in grow", 27), ("ck", 10), ("oo as in spoon", 18),
    ("ar", 16), ("ff", 9), ("th", 14), ("a-e", 27),
]  # fmt: skip


# The source: the words of the task itself, that a child can decode every word of a list.
@pytest.mark.parametrize(("text", "step"), TARGETS)
def test_every_word_can_be_decoded_and_holds_the_target(text: str, step: int) -> None:
    order = harbour()
    result = found(order, step, text, number=None)
    judge = judge_at(order, step)
    assert len(result.words) == result.fitting > 5
    said = {(c, projected(c[0], c[1], order.accent)) for t in result.wanted.targets for c in t.forms}
    heard = {(grapheme, ipa) for (grapheme, _), ipa in said}
    for word in result.words:
        verdict = judge.judge(word.word)
        assert verdict.status == DECODABLE, word.word
        assert word.first_step <= step
        assert any(
            (s.grapheme, projected(s.grapheme, s.sound, order.accent)) in heard for s in word.reading.segments
        ), word.word


@pytest.mark.parametrize("step", [1, 5, 9, 14, 20, 27])
def test_nothing_untaught_is_in_a_list(step: int) -> None:
    order = harbour()
    for word in found(order, step, number=400).words:
        assert all(not order.missing(unit, step) for unit in word.reading.units), word.word


def test_a_list_for_spelling_asks_for_every_spelling() -> None:
    order = harbour()
    reading, spelling = (found(order, 14, number=None, purpose=p) for p in ("reading", "spelling"))
    assert {w.word for w in spelling.words} < {w.word for w in reading.words}
    for word in spelling.words:
        for unit in word.reading.units:
            fine = [
                a
                for a in unit.alternatives
                if all(order.step_of(i) <= 14 and i.kind not in (SINGLE, UNNAMED) and i is not WEAKENED for i in a)
            ]
            assert fine, word.word
    # a weakened vowel can be read as its short sound, but does not tell how it is spelt
    assert "seven" in words(reading) and "seven" not in words(spelling)


@pytest.mark.parametrize("seed", range(12))
def test_any_filters_together(seed: int) -> None:
    drawn = random.Random(seed)
    order, step = harbour(), drawn.choice([9, 14, 20, 27])
    sounds, syllables = drawn.choice([None, "3", "4-", "-5", "3-4"]), drawn.choice([None, "1", "2", "-2"])
    asked: dict[str, Any] = {
        "sounds": range_of(sounds, "--sounds"),
        "syllables": range_of(syllables, "--syllables"),
        "graphemes": range_of(drawn.choice([None, "2-4"]), "--graphemes"),
        "endings": drawn.random() < 0.5,
        "common": drawn.choice([None, 3.5]),
        "without": drawn.choice([(), ("s",), ("ck", "e as in bed")]),
    }
    result = found(order, step, number=None, **asked)
    kept_out = {f for t in result.wanted.without for f in t.forms}
    for word in result.words:
        segments = shown_segments(word.reading)
        counted = sum(len(project(s.grapheme, s.sound, s.linked, order.accent)) for s in segments)
        assert (word.graphemes, word.sounds) == (len(segments), counted)
        for value, limits in ((word.sounds, asked["sounds"]), (word.graphemes, asked["graphemes"])):
            assert not limits or limits.least <= value <= limits.most
        assert not kept_out & {(s.grapheme, s.sound) for s in segments}, word.word
        if not asked["endings"]:
            assert all(u.alternatives[0][0].kind != ENDING for u in word.reading.units), word.word
        assert not asked["common"] or word.common >= 3.5


def test_structures() -> None:
    result = found(harbour(), 20, structures=("CCVC", "CVCC"), number=200)
    assert {structure(w.reading) for w in result.words} == {"CCVC", "CVCC"}


def test_the_place_of_the_target() -> None:
    order = harbour()
    by_place = {p: set(words(found(order, 20, "sh", place=p, number=None))) for p in ("start", "middle", "end")}
    whole = set(words(found(order, 20, "sh", number=None)))
    assert set.union(*by_place.values()) == whole
    assert {"ship", "shop"} <= by_place["start"] - by_place["end"] - by_place["middle"]
    assert {"fish", "dish"} <= by_place["end"] - by_place["start"] - by_place["middle"]
    assert all(w.startswith("sh") for w in by_place["start"]) and all(w.endswith("sh") for w in by_place["end"])
    assert "fishing" in by_place["middle"] and "fishing" not in by_place["end"]


def test_several_targets_stand_all_in_every_word() -> None:
    found_words = words(found(harbour(), 20, "sh", "ee", number=None))
    assert "sheep" in found_words and "ship" not in found_words and "see" not in found_words
    assert {"ship", "see"} <= set(words(found(harbour(), 20, "sh, ee", number=None)))


def test_other_kinds_of_targets() -> None:
    order = harbour()
    assert "jumping" in words(found(order, 20, "-ing", number=None))
    assert all("st" in w for w in words(found(order, 20, "st", number=300)))
    assert "station" in words(found(everything(), 1, "tion", number=None, common=4.0))


# Common practice, no source: the counts that teachers of reading use.
@pytest.mark.parametrize(
    ("word", "graphemes", "sounds"),
    [
        ("day", 2, 2), ("knit", 3, 3), ("bright", 4, 4), ("bird", 3, 3), ("storm", 4, 4), ("star", 3, 3), ("queen", 3, 4),
        ("box", 3, 4),
    ],
)  # fmt: skip
def test_counts(word: str, graphemes: int, sounds: int) -> None:
    (known,) = (w for w in every_common_word() if w[0] == word)
    assert known == (word, graphemes, sounds)


def every_common_word() -> list[tuple[str, int, int]]:
    result = found(everything(), 1, number=None, common=3.0, syllables=range_of("1", "--syllables"))
    return [(w.word, w.graphemes, w.sounds) for w in result.words]


# -- what is left out ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", [k for k in KINDS if k not in ALWAYS])
def test_every_kind_is_counted_and_let_in_by_its_switch(kind: str) -> None:
    order, step = harbour(), 27
    plain, more = found(order, step, number=1), found(order, step, number=1, also=frozenset((kind,)))
    counted = dict(plain.left_out)
    assert counted[kind] > 0 and kind not in dict(more.left_out)
    assert more.fitting > plain.fitting
    assert dict(more.left_out) == {k: n for k, n in counted.items() if k != kind}
    assert more.fitting - plain.fitting == counted[kind]


def test_what_is_left_out_by_name() -> None:
    order = everything()
    usual = plain_words(order, 1, common=2.5)
    assert {"cat", "donkey", "ship", "i", "a", "don't"} <= usual
    # a name, letters of a thing, a possessive, a swear word and a form of an unfit one, the other country's, two readings, no digraph
    assert not usual & {"london", "tv", "cat's", "rape", "raped", "color", "read", "wind", "mishap", "b"}
    assert "london" in plain_words(order, 1, common=2.5, also=frozenset(("names",)))
    told = words(found(order, 1, number=None, likely=4.6, also=frozenset(("names",))))
    assert "I" in told and "Sunday" in told


def test_letters_that_look_like_a_digraph_are_those_of_the_rule() -> None:
    order = harbour()
    for word in found(order, 27, number=1500, also=frozenset(("joins",))).words:
        assert (word.kind == "joins") == looks_joined(word.reading.segments), word.word


# The source: common practice; words that are in every first list, though two of their letters are a grapheme elsewhere.
def test_everyday_words_are_not_taken_for_joined_ones() -> None:
    kinds = {w.word: w.kind for w in found(everything(), 1, number=None, common=3.0, also=frozenset(("joins",))).words}
    assert {kinds[w] for w in ("tin", "tip", "very", "finger", "danger", "number", "forest", "away", "signal")} == {""}
    assert {kinds[w] for w in ("mishap", "react", "going", "loophole", "uphill")} == {"joins"}


def test_a_word_with_one_sense_out_of_reach_is_unsure() -> None:
    order = order_of("step 1\n  teach r, e, d, ea as in leaf\nstep 2\n  teach ea as in bread\n")
    assert "read" not in words(found(order, 1, number=None))
    let_in = {w.word: w.kind for w in found(order, 1, number=None, also=frozenset(("unsure",))).words}
    assert let_in["read"] == "unsure"


def order_of(text: str) -> TeachingOrder:
    order, problems = resolve(text, "x.progression")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    return order


def test_a_word_that_the_progression_pins_is_left_out() -> None:
    order = order_of("word nit = n + i + t\nstep 1\n  teach t, i, n, e, p\n")
    result = found(order, 1, number=None)
    assert order.pinned and not {"nit", "nits"} & set(words(result)) and "net" in words(result)
    assert dict(result.left_out)["pinned"] >= 1


def test_what_begins_with_a_capital_waits_for_it() -> None:
    order = order_of(
        "capitals from step 2\nstep 1\n  teach i as in find, i as in sit, t, m, n, a, d\nstep 2\n  teach s\n"
    )
    early, late = (found(order, step, number=None, also=frozenset(("names", "contractions"))) for step in (1, 2))
    assert not [w for w in words(early) if w != w.lower()] and {"I", "I'm", "Tim"} <= set(words(late))
    assert dict(early.left_out)["capitals"] >= 3 and "capitals" not in dict(late.left_out)
    for result, step in ((early, 1), (late, 2)):
        assert all(judge_at(order, step).judge(w).status == DECODABLE for w in words(result))


def test_contractions_wait_for_their_ending() -> None:
    letters = "step 1\n  teach a, d, h, i, n, t, w, e, l as in leg\n"
    without = found(order_of(letters), 1, number=None)
    taught = found(order_of(letters + "step 2\n  teach n't\n"), 2, number=None)
    assert not [w for w in words(without) if "'" in w] and dict(without.left_out)["contractions"] >= 3
    assert "hadn't" in words(taught) and "he'll" not in words(taught)
    let_in = found(order_of(letters), 1, number=None, also=frozenset(("contractions",)))
    assert {"hadn't", "didn't"} <= set(words(let_in))


# The source: the words of the task itself, for every progression that ships and for both lexicons.
@pytest.mark.parametrize("name", ["england-national-curriculum", "us-common-core-foundational-skills"])
def test_words_of_published_standards_can_be_decoded(name: str) -> None:
    order = order_at(ROOT / "rules" / "progressions" / f"{name}.progression")
    for head in order.steps:
        judge = judge_at(order, head.number)
        result = found(order, head.number, number=300, seed=head.number)
        assert all(judge.judge(w).status == DECODABLE for w in words(result))


# -- choosing and ordering ------------------------------------------------------------------------------------------------------


def test_a_seed_draws_the_same_words_again() -> None:
    order = harbour()
    first, again, other = (words(found(order, 20, number=12, seed=s)) for s in (5, 5, 6))
    assert first == again != other
    assert set(first) != set(words(found(order, 20, number=12)))
    likely = set(words(found(order, 20, number=72)))
    assert set(first) <= likely


def test_a_find_is_the_same_in_a_new_order() -> None:
    results = []
    for _ in range(2):
        order, _problems = resolve(harbour_text(), "x.progression")
        results.append([(w.word, w.effort.total, w.sounds_like) for w in found(order, 20, number=60).words])
    assert results[0] == results[1]


def harbour_text() -> str:
    order = harbour()
    return "\n".join(order.sources[order.path])


def test_orders() -> None:
    order = harbour()
    asked = {o: find(order, 20, WantedWords(number=40, order=o)) for o in ("easy", "common", "length", "alphabet")}
    efforts = [w.effort.total for w in asked["easy"].words]
    assert efforts == sorted(efforts)
    common = [w.common for w in asked["common"].words]
    assert common == sorted(common, reverse=True)
    assert [len(w) for w in words(asked["length"])] == sorted(len(w) for w in words(asked["length"]))
    assert words(asked["alphabet"]) == sorted(words(asked["alphabet"]), key=str.lower)


def test_words_used_before_are_left_out() -> None:
    order = harbour()
    first = found(order, 20, "ee", number=10)
    second = found(order, 20, "ee", number=10, used=frozenset(words(first)), used_from="last-week.txt")
    assert not set(words(first)) & set(words(second))


def test_a_group_is_asked_by_what_it_was_taught() -> None:
    from decodecheck.progression.step_expression import Wanted, choose_step

    where = choose_step(harbour(), Wanted("20 except ow as in town"))
    group, whole = plain_words(where.order, where.step), plain_words(harbour(), 20)
    assert "town" in whole and "town" not in group and group < whole


# -- accents -------------------------------------------------------------------------------------------------------------------


def test_words_that_differ_by_accent_are_told() -> None:
    order = order_of("accent northern-english\nstep 1\n  teach a, b, g, r, s, ss, th, p, t, c, l\n")
    told = {w.word: w.unread_in for w in found(order, 1, number=None).words}
    # the a of bath is that of cat in the north alone
    assert "southern-british" in told["bath"] and "southern-british" in told["grass"]
    assert told["cat"] == ()


# -- nothing left -----------------------------------------------------------------------------------------------------------------


def test_contradictory_filters_tell_which_leaves_nothing() -> None:
    with pytest.raises(UserError) as caught:
        found(harbour(), 14, "ee", sounds=range_of("2", "--sounds"), syllables=range_of("3", "--syllables"))
    (problem,) = caught.value.problems
    assert problem.path == "--syllables 3"
    assert problem.todo.startswith("Left after each: can be read at step 14: ")
    assert problem.todo.endswith("--syllables 3: 0.")
    counts = [int(part.rpartition(": ")[2].replace(",", "")) for part in problem.todo.rstrip(".").split("; ")]
    assert counts == sorted(counts, reverse=True) and counts[-1] == 0 < counts[-2]


def test_a_target_that_comes_later_is_told_with_its_step() -> None:
    with pytest.raises(UserError, match="`ow as in grow` is taught at step 23") as caught:
        found(harbour(), 20, "ow as in grow")
    assert caught.value.problems[0].path == '--with "ow as in grow"'


def test_where_only_kinds_are_left_they_are_named() -> None:
    order = order_of("step 1\n  teach w, i as in sit and find, n, d\n")
    with pytest.raises(UserError, match="--also heteronyms"):
        found(order, 1, "w", "d", structures=("CVCC",))


def test_a_step_without_a_word() -> None:
    order = order_of("step 1\n  teach gn\n")
    with pytest.raises(UserError, match="No word of the lexicon can be read at step 1"):
        find(order, 1, WantedWords())


def test_all_words_are_one_find() -> None:
    order = harbour()
    some = found(order, 20, "sh", number=7)
    assert len(some.words) == 7
    every = found(order, 20, "sh", number=None)
    assert every.fitting == len(every.words) == some.fitting
    assert replace(some.wanted, number=None) == every.wanted


# The source: the package wordfreq.
def test_how_common_a_listed_word_is() -> None:
    listed = find(everything(), 1, WantedWords(number=3000, order="alphabet")).words[::10]
    assert len(listed) == 300
    for word in listed:
        assert word.common == pytest.approx(wordfreq.zipf_frequency(word.word, "en"), abs=1e-9), word.word
