"""Rules that mend dictionary entries, and the bases that unlisted forms are taken to have.

The pronunciations are those of any British or American dictionary for learners (from memory, not looked up again).
"""

import pytest

from decodecheck.lexicon.compiling.tidy import is_numeral, verb_of, without_syllable, without_t
from decodecheck.lexicon.items import ENDING
from decodecheck.lexicon.lookup import Lookup
from decodecheck.lexicon.store import Reading, lexicon, tables
from decodecheck.phonics.sounds import AMERICAN, BRITISH, LEXICONS, lexicon_of, project

BRITISH_ACCENT, AMERICAN_ACCENT = "southern-british", "general-american"


def said(word: str, accent: str) -> list[str]:
    return [ipa(r, accent) for r in Lookup(accent).readings(word)]


def ipa(reading: Reading, accent: str) -> str:
    return "".join("".join(project(s.grapheme, s.sound, s.linked, accent)) for s in reading.segments)


def endings(reading: Reading) -> set[str]:
    items = {i for unit in reading.units for alternative in unit.alternatives for i in alternative}
    return {i.name for i in items if i.kind == ENDING}


@pytest.mark.parametrize(
    ("word", "before", "after"),
    [
        ("middling", "m ˈɪ d ə l ɪ ŋ", "m ˈɪ d l ɪ ŋ"),
        ("settlers", "s ˈɛ t ə l ə ɹ z", "s ˈɛ t l ə ɹ z"),
        ("whistler", "w ˈɪ s ə l ə", "w ˈɪ s l ə"),
        ("family", "f ˈæ m ə l i", "f ˈæ m ə l i"),  # the a is a vowel letter of its own
        ("globally", "ɡ l ˈəʊ b ə l i", "ɡ l ˈəʊ b ə l i"),
        ("cleverly", "k l ˈe v ə l i", "k l ˈe v ə l i"),  # the schwa is that of er
    ],
)
def test_l_before_a_vowel_is_no_syllable(word: str, before: str, after: str) -> None:
    assert without_syllable(word, before) == after


def test_no_word_keeps_a_syllabic_l_before_a_vowel() -> None:
    for word in ("bubbling", "rattling", "prickly", "circling", "paddling", "wobbly", "ticklish"):
        for accent in (BRITISH_ACCENT, AMERICAN_ACCENT):
            assert all("əl" not in ipa for ipa in said(word, accent)), (word, accent)


@pytest.mark.parametrize(
    ("word", "before", "after"),
    [
        ("intention", "ɪ n t ˈɛ n tʃ ə n", "ɪ n t ˈɛ n ʃ ə n"),
        ("provincial", "p ɹ ə v ˈɪ n tʃ ə l", "p ɹ ə v ˈɪ n ʃ ə l"),
        ("question", "k w ˈɛ s tʃ ə n", "k w ˈɛ s tʃ ə n"),
        ("enchanting", "ɪ n tʃ ˈæ n t ɪ ŋ", "ɪ n tʃ ˈæ n t ɪ ŋ"),
    ],
)
def test_no_t_slips_in_after_n(word: str, before: str, after: str) -> None:
    assert without_t(word, before) == after


@pytest.mark.parametrize("word", ["ii", "iv", "viii", "xiv", "xxxi", "mcm", "xliii"])
def test_numerals_are_no_words(word: str) -> None:
    assert is_numeral(word)
    assert all(not lexicon(name).has(word) for name in LEXICONS)


@pytest.mark.parametrize("word", ["mix", "mild", "civil", "dim", "lid", "i", "mm", "vivid", "mimic", "ill"])
def test_words_that_only_look_like_numerals_stay(word: str) -> None:
    assert any(lexicon(name).has(word) for name in LEXICONS)


@pytest.mark.parametrize(
    ("word", "pronunciation", "verb"),
    [
        ("assorted", "ə s ˈɔː t ɪ d", "assort"),
        ("unscathed", "ʌ n s k ˈeɪ ð d", "unscathe"),
        ("computerized", "k ə m p j ˈuː t ə r aɪ z d", "computerize"),
        ("embittered", "ɪ m b ˈɪ t ə d", "embitter"),
        ("besotted", "b ɪ s ˈɒ t ɪ d", "besot"),
        ("rarefied", "r ˈeə r ɪ f aɪ d", "rarefy"),
        ("encoding", "e ŋ k ˈəʊ d ɪ ŋ", "encode"),
        ("naked", "n ˈeɪ k ɪ d", None),
        ("seabed", "s ˈiː b e d", None),
        ("purebred", "p j ˈʊ ə b r e d", None),
        ("seaweed", "s ˈiː w iː d", None),
    ],
)
def test_verb_of_a_participle(word: str, pronunciation: str, verb: str | None) -> None:
    found = verb_of(word, pronunciation, BRITISH)
    assert (found[0] if found else None) == verb


@pytest.mark.parametrize("word", ["assorted", "benighted", "situated", "embedded", "unscathed", "parched", "subjected"])
def test_participles_have_the_ending(word: str) -> None:
    for accent in (BRITISH_ACCENT, AMERICAN_ACCENT):
        assert all("-ed" in endings(r) for r in Lookup(accent).readings(word)), (word, accent)


@pytest.mark.parametrize("word", ["housing", "documenting", "mouthing", "encoding", "travelling"])
def test_a_verb_that_sounds_otherwise_alone_keeps_its_ending(word: str) -> None:
    assert all("-ing" in endings(r) for r in Lookup(BRITISH_ACCENT).readings(word))


def test_nouns_and_adjectives_like_verbs_have_no_ending() -> None:
    for word in ("dingy", "nestling", "worsted", "duckling", "its"):
        assert all(endings(r) == set() for r in Lookup(BRITISH_ACCENT).readings(word)), word


def test_an_adjective_in_ed_has_no_ending() -> None:
    for word in ("naked", "wicked", "hundred", "sacred", "rugged"):
        assert endings(Lookup(BRITISH_ACCENT).readings(word)[0]) == set(), word


@pytest.mark.parametrize(
    ("word", "british", "american"),
    [
        ("longed", "lɒŋd", "lɔŋd"),
        ("hanged", "hæŋd", "hæŋd"),
        ("hissed", "hɪst", "hɪst"),
        ("offed", "ɒft", "ɔft"),
        ("singed", "sɪndʒd", "sɪndʒd"),
        ("breathed", "briːðd", "bɹiðd"),
        ("clothed", "kləʊðd", "kloʊðd"),
        ("quizzed", "kwɪzd", "kwɪzd"),
        ("stung", "stʌŋ", "stʌŋ"),
        ("soles", "səʊlz", "soʊlz"),
        ("kinder", "kaɪndə", "kaɪndəɹ"),
        ("threshing", "θreʃɪŋ", "θɹɛʃɪŋ"),
        ("eighteenth", "eɪtiːnθ", "eɪtinθ"),
        ("disguise", "dɪsɡaɪz", "dɪsɡaɪz"),
        ("ancient", "eɪnʃənt", "eɪnʃənt"),
        ("sorrowful", "sɒrəʊfʊl", "sɑɹoʊfəl"),
        ("jemima", "dʒɪmaɪmə", "dʒəmaɪmə"),
        ("must've", "mʌstəv", "mʌstəv"),
    ],
)
def test_mended_entries(word: str, british: str, american: str) -> None:
    assert said(word, BRITISH_ACCENT)[0] == british
    assert said(word, AMERICAN_ACCENT)[0] == american


def test_a_possessive_follows_its_base() -> None:
    for word in ("megan", "annie", "davis", "tilda", "jan"):
        for accent in (BRITISH_ACCENT, AMERICAN_ACCENT):
            readings = Lookup(accent).readings(f"{word}'s")
            assert readings and all("'s" in endings(r) for r in readings), (word, accent)


def test_sound_words_are_marked() -> None:
    known = tables()
    for word in ("shhh", "zzzz", "grrr", "mmmm", "hmmm", "aaargh", "brrr", "oooh"):
        assert known.is_sound[known.number(word)], word
    for word in ("the", "she", "tilda", "is"):
        number = known.number(word)
        assert number < 0 or not known.is_sound[number], word


@pytest.mark.parametrize(
    ("word", "northern", "scottish"),
    [
        ("half", "hɑːf", "haf"),
        ("calves", "kɑːvz", "kavz"),
        ("can't", "kɑːnt", "kant"),
        ("banana", "bənɑːnə", "bənanə"),
        ("tomato", "təmɑːtəʊ", "təmato"),
        ("bath", "baθ", "baθ"),
        ("aunt", "ant", "ant"),
        ("happy", "hapi", "hapi"),
        ("loch", "lɒk", "lɔx"),
        ("lochs", "lɒks", "lɔxs"),
        ("och", "ɒk", "ɔx"),
        ("ochre", "əʊkə", "okər"),
        ("which", "wɪtʃ", "ʍɪtʃ"),
        ("witch", "wɪtʃ", "wɪtʃ"),
        ("idea", "aɪdɪə", "ʌɪdiə"),
    ],
)
def test_accents_tell_words_apart(word: str, northern: str, scottish: str) -> None:
    # Wells, Accents of English (1982), from memory
    assert said(word, "northern-english")[0] == northern
    assert said(word, "scottish")[0] == scottish


@pytest.mark.parametrize(
    ("word", "british", "american"),
    [
        ("aardvark", "aar d v ar k", "aar d v ar k"),
        ("sweetener", "s w ee t e n er", "s w ee t e n er"),
        ("modelling", "m o d e ll i ng", "m o d e ll i ng"),
        ("matinee", "m a t i n ee", "m a t i n ee"),
        ("real", "r ea l", "r ea l"),
        ("strength", "s t r e ng th", "s t r e ng th"),
        ("one", "o ne", "o ne"),
        ("once", "o n ce", "o n ce"),
        ("idea", "i d ea", "i d e a"),
        ("handsome", "h a n d s o-e m", "h a n d s o-e m"),
        ("amused", "a m u s ed", "a m u s ed"),
        ("michael", "m i ch ae l", "m i ch ae l"),
        ("mischief", "m i s ch ie f", "m i s ch ie f"),
    ],
)
def test_mended_divisions(word: str, british: str, american: str) -> None:
    for accent, wanted in ((BRITISH_ACCENT, british), (AMERICAN_ACCENT, american)):
        assert " ".join(s.grapheme for s in Lookup(accent).readings(word)[0].segments) == wanted, accent


def test_accents_project_one_lexicon() -> None:
    assert {lexicon_of(a) for a in ("southern-british", "northern-english", "scottish")} == {BRITISH}
    assert lexicon_of(AMERICAN_ACCENT) == AMERICAN
