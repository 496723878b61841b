"""The texts of the benchmarks are what their names say, and the same each time."""

from decodecheck.lexicon.store import lexicon
from tests.benchmarks.corpus import PROSE, STORIES, WORD, in_texts, of_size, prose, with_rare_words

TEXT = (STORIES / "peter_rabbit.txt").read_text(encoding="utf-8")


def test_prose_is_the_stories_and_others_like_them() -> None:
    text = prose()
    assert text.startswith((STORIES / "alice.txt").read_text(encoding="utf-8"))
    assert abs(len(text.encode()) - PROSE) < 2000
    assert len(set(text.split())) > 30_000
    assert prose(STORIES) == text[: len(prose(STORIES))]


def test_every_tenth_word_is_rare() -> None:
    changed = with_rare_words(TEXT)
    assert changed == with_rare_words(TEXT) != with_rare_words(TEXT, seed=12)
    before, after = WORD.findall(TEXT), WORD.findall(changed)
    assert len(before) == len(after)
    known = lexicon("british")
    for number, (old, new) in enumerate(zip(before, after), 1):
        if number % 10:
            assert old == new
        else:
            assert old[0].isupper() == new[0].isupper()
            assert known.has(new.lower())
            assert 100 <= known.tables.zipf[known.tables.number(new.lower())] <= 270
    # nothing but words has changed
    assert WORD.sub("", TEXT) == WORD.sub("", changed)


def test_a_larger_text_begins_with_the_text_and_goes_on_with_its_variants() -> None:
    whole = of_size(TEXT, 3 * len(TEXT))
    assert whole.startswith(TEXT)
    assert abs(len(whole.encode()) - 3 * len(TEXT.encode())) < 200
    assert whole.endswith("\n")
    assert with_rare_words(TEXT, 1) in whole
    assert TEXT not in whole[1:]


def test_texts_hold_the_same_words() -> None:
    texts = in_texts(TEXT, 50)
    assert {len(text.split()) for text in texts} == {50}
    assert " ".join(texts).split() == TEXT.split()[: 50 * len(texts)]
    assert len(TEXT.split()) - 50 * len(texts) < 50
