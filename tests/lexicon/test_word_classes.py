"""The usual class of common words (rules/word_classes.tsv).

Outside check, measured once when the file was made; the script was not kept, so nothing here repeats it. Against WordNet 3.1
(Princeton University; its counts are of a sense-tagged corpus): where one of noun, verb, adjective and adverb has twice the
count of every other (3,654 words), the class is the same for 3,486 (95.4%). The rest are meant otherwise for young children
(swing noun, hidden adjective, may verb). A second check, against the classes that the SPECIALIST lexicon of the United States
National Library of Medicine or WordNet lists for a word: 4,678 of 4,682 are among them; the others are plural nouns (logs, oils,
pans, tops) of nouns that both list.
"""

from decodecheck.lexicon.common_words import VARIETIES, common_words, unfit_words
from decodecheck.lexicon.store import lexicon
from decodecheck.lexicon.word_classes import WORD_CLASSES, word_class
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

ROWS = read_table(rules_folder() / "word_classes.tsv")
# Words whose class handbooks do not dispute, in their usual use. Determiners, pronouns, prepositions, adverbs and modal verbs
# mostly stand as examples in the glossary of England's national curriculum, English (2014); the rest are those that a first
# grammar for schools names. Both from memory.
UNDISPUTED = {
    "determiner": "the a an this those my your his her our their some every",
    "pronoun": "he she we they me us him them who myself himself something everybody nobody",
    "preposition": "to at from in of with into under during between towards",
    "conjunction": "and but or if because when while although unless",
    "adverb": "soon really usually never always very often quickly slowly suddenly again too then",
    "adjective": "big small good happy sad old new young red blue cold hungry second",
    "noun": "dog cat boy girl house tree book child children school mother water day fish bread",
    "verb": "is was go went come came see saw eat ate run make said will would can could must should ought",
    "number": "one two three ten twelve twenty hundred",
    "interjection": "oh hello hey wow oops ouch",
    "contraction": "don't i'm it's we'll can't",
}


def test_the_file() -> None:
    words = [row["word"] for row in ROWS]
    assert words == sorted(set(words))
    assert {row["class"] for row in ROWS} == set(WORD_CLASSES)
    assert len(words) >= 4900
    british, american = lexicon("british"), lexicon("american")
    assert not [w for w in words if not (british.has(w) or american.has(w))]
    assert not set(words) & {w for w, kind in unfit_words().items() if kind not in VARIETIES}


def test_undisputed_words() -> None:
    wrong = {w: word_class(w) for c, words in UNDISPUTED.items() for w in words.split() if word_class(w) != c}
    assert not wrong
    assert sum(len(words.split()) for words in UNDISPUTED.values()) >= 100


def test_the_use_in_a_story() -> None:
    for word, expected in {
        "run": "verb", "play": "verb", "like": "verb", "back": "adverb", "that": "determiner", "present": "noun",
        "orange": "adjective", "ring": "noun", "open": "verb", "left": "verb", "kind": "adjective", "home": "adverb",
    }.items():  # fmt: skip
        assert word_class(word) == expected, word


def test_the_commonest_words_have_a_class() -> None:
    assert not [w for name in ("british", "american") for w in common_words(lexicon(name), 3000) if not word_class(w)]


def test_unknown_and_capital() -> None:
    assert word_class("zog") == ""
    assert word_class("The") == "determiner"
    assert word_class("I'm") == "contraction"
