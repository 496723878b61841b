"""Notes on progressions: each kind where it is due, none where it is not."""

from __future__ import annotations

from collections.abc import Sequence

from decodecheck.insight.advise import advise
from decodecheck.lexicon.common_words import common_words
from decodecheck.over_texts import word_counts
from decodecheck.session import Session
from tests.checks.published import table

from .demo import DEMO, HARBOUR, harbour, order_of

ALL_LETTERS = "step 1\n  teach a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y, z\n"


def said(text: str, about: str) -> Sequence[tuple[int, str]]:
    return [(n.line, n.what) for n in advise(order_of(text)).notes if about in n.what]


def test_tricky_words_that_can_be_decoded_already() -> None:
    assert said("step 1\n  teach a, t\nstep 2\n  tricky at, said\n", "can be decoded") == [
        (4, "The tricky word `at` can be decoded from step 1 on.")
    ]


def test_tricky_words_of_one_line_are_noted_together() -> None:
    text = "step 1\n  teach a, t, n\nstep 2\n  teach s, i\n  tricky sit, at, the, ant, sin, in\n  tricky tin\n"
    assert said(text, "can be decoded") == [
        (5, "The tricky words `sit`, `sin` and `in` can be decoded from step 2 on."),
        (5, "The tricky words `at` and `ant` can be decoded from step 1 on."),
        (6, "The tricky word `tin` can be decoded from step 2 on."),
    ]
    first, second, _ = [note for note in advise(order_of(text)).notes if "can be decoded" in note.what]
    assert (first.column, first.width) == (10, 3) and (second.column, second.width) == (15, 2)
    assert first.todo == "That does no harm: from step 2 on they count as decodable."


def test_a_step_with_nothing_to_read() -> None:
    text = "step 1\n  teach p, t\nstep 2\n  teach a\nstep 3\n  teach zz\nstep 4\nstep 5\n  teach s\n"
    found = dict(said(text, "step"))
    assert found[1] == "No word can be read yet at this step."
    assert found[5] == "None of the 5000 commonest words becomes readable at this step."
    assert found[7] == "This step teaches nothing."
    assert set(found) == {1, 5, 7}


def test_a_sound_with_one_spelling_only() -> None:
    found = said(ALL_LETTERS + "step 2\n  teach ai\n", "only spelling")
    assert (3 + 1, "`ai as in rain` is the only spelling you teach for this sound (ay in day).") in found
    with_another = said(ALL_LETTERS + "step 2\n  teach ai\nstep 3\n  teach ay, a-e\n", "only spelling")
    assert not [what for _, what in with_another if "`ai" in what]


def test_what_can_be_read_otherwise_is_no_missing_spelling() -> None:
    # seven, rabbit, pink, jumped: weakened vowels, doubled letters, n before k and taught endings need no lesson
    found = said(ALL_LETTERS + "  teach -ed, ng\n", "only spelling")
    assert not [what for _, what in found if what.startswith(("`t ", "`d ", "`b ", "`ng "))]


def test_split_digraphs_before_their_vowels() -> None:
    found = said("step 1\n  teach a-e, m, k, t\nstep 2\n  teach a, i, i-e\nstep 3\n  teach o-e\n", "split digraph")
    assert found == [
        (2, "The split digraph `a-e` comes before its vowel: `a as in cat` is taught at step 2."),
        (6, "The split digraph `o-e` comes before its vowel: `o as in hot` is never taught."),
    ]


def test_words_that_must_be_taught_as_tricky_words() -> None:
    # source: England, National curriculum, English Appendix 1 (2013): common exception words of year 1. With single letters
    # alone, those among the 500 commonest words that are flagged must be nearly all of them.
    order = order_of(ALL_LETTERS)
    common = set(common_words(order.lexicon, 500))
    published = {row["word"].lower() for row in table("nc_exception_words.tsv") if row["year"] == "1"} & common
    flagged = {u.word for u in advise(order).unreadable}
    assert len(published) > 30
    # "put", "full" and the like have one sound too many; "is", "has" take z for s, which nothing but a lesson gives
    assert published - flagged <= {"i", "a"}


def test_unreadable_words_come_by_frequency_and_say_why() -> None:
    order = harbour()
    found = advise(order).unreadable
    rank = {w: i for i, w in enumerate(common_words(order.lexicon, 500))}
    assert len(found) > 20
    assert [rank[u.word] for u in found] == sorted(rank[u.word] for u in found)
    assert all(u.reason for u in found)
    assert not {u.word for u in found} & set(order.tricky)


def test_by_the_texts_of_a_school() -> None:
    session = Session()
    order = session.order(str(HARBOUR))
    found = {u.word: u.times for u in advise(order, word_counts(session, str(DEMO / "texts"), order).words).unreadable}
    assert found == {"biscuit": 1, "bread": 1, "cold": 1, "pull": 1, "yacht": 1}


def test_every_note_has_a_place_in_the_file() -> None:
    lines = HARBOUR.read_text(encoding="utf-8").split("\n")
    notes = advise(harbour()).notes
    assert notes
    for note in notes:
        assert note.note and lines[note.line - 1] == note.excerpt
        assert 1 <= note.column <= len(note.excerpt)
