"""Any words described as those of a list are."""

from __future__ import annotations

from decodecheck.lexicon.store import NEVER
from decodecheck.wordlists.described import describe
from tests.wordlists.asking import found, harbour


def test_words_that_were_found_are_described_the_same() -> None:
    order = harbour()
    for step, targets in ((14, ("ee",)), (20, ()), (27, ("c as in city",))):
        listed = found(order, step, *targets, number=60, also=frozenset(("names", "heteronyms", "unsure"))).words
        assert describe(order, step, [word.word for word in listed]) == list(listed)


def test_words_that_no_list_would_hold() -> None:
    order = harbour()
    unknown, knee, bread, again, curly = describe(order, 14, ["blidge", "knee", "Bread", "knee", "don’t"])
    assert unknown is None and knee == again
    assert knee and bread and curly
    assert [s.grapheme for s in knee.reading.segments] == ["kn", "ee"] and knee.first_step > 14
    assert (bread.word, bread.graphemes, bread.unread_in) == ("bread", 4, ())
    assert curly.word == "don't" and curly.graphemes == 4
    assert describe(order, 14, []) == [] and describe(order, 14, ["blidge"]) == [None]


def test_the_reading_is_the_first_usual_one_that_can_be_read() -> None:
    said = []
    for step in (14, 23):
        (read,), (again,) = (describe(harbour(), step, [word]) for word in ("read", "again"))
        assert read and again
        said.append((read.reading.segments[1].sound, read.first_step, read.kind, again.reading.segments[2].sound))
    # neither sense of read can be read at step 14, so nothing is unsure there; again is said in two ways, one of which is taught at step 16
    assert said == [(("DRESS",), NEVER, "heteronyms", ("DRESS",)), (("FLEECE",), 23, "unsure", ("FACE",))]
    (mark,) = describe(harbour(), 14, ["mark"])
    assert mark and (mark.first_step, mark.kind) == (15, "")
