"""Forms of words: what a word may be a form of, and the forms of its base, against another library."""

import pytest
from lemminflect import getInflection, getLemma

from decodecheck.lexicon.common_words import common_words
from decodecheck.lexicon.inflection import (
    BASE,
    COMPARATIVE,
    ING,
    PARTICIPLE,
    PAST,
    PLURAL_OR_THIRD,
    SUPERLATIVE,
    Inflected,
    form_of,
    inflections,
    spelt,
)
from decodecheck.lexicon.meanings import ADJECTIVE, NOUN, VERB, meanings
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.sounds import AMERICAN, BRITISH
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

TAGS = {
    (NOUN, PLURAL_OR_THIRD): "NNS", (VERB, PLURAL_OR_THIRD): "VBZ", (VERB, PAST): "VBD", (VERB, PARTICIPLE): "VBN", (VERB, ING): "VBG",
    (ADJECTIVE, COMPARATIVE): "JJR", (ADJECTIVE, SUPERLATIVE): "JJS",
}  # fmt: skip
"""The tags of the Penn treebank by which lemminflect names forms."""


GRAMMAR = {"be", "have", "will", "can"}
"""Nothing is proposed for words of grammar, and their forms are not made."""
BOTH_RIGHT = {
    "fit -en fit", "get -en got", "lean -en leaned", "level -er leveller", "lie -en lain", "light -en lit", "little -er less",
    "little -est least", "person -s people", "saw -en sawed", "smell -en smelled", "sneak -ed snuck", "sneak -en snuck",
    "spell -en spelled", "ox -s oxen",
}  # fmt: skip
"""There is another form as well, which the other library gives (gotten, leant; lied is of another verb)."""
THEIR_MISTAKES = {
    "blue -er bluer", "blue -est bluest", "due -er duer", "free -er freer", "free -est freest", "true -er truer", "less -er lesser",
}  # fmt: skip
"""It has blueer, dueer, freeer, trueer; less is no form of less."""


def theirs(base: str, pos: str, ending: str) -> tuple[str, ...]:
    found: tuple[str, ...] = getInflection(base, tag=TAGS[pos, ending])
    return found


def test_forms_of_common_words_against_another_library() -> None:
    # source: the package lemminflect (its dictionary is made from the NIH's lexicon)
    british, known = lexicon(BRITISH), meanings()
    apart = set()
    asked = 0
    for base in common_words(british, 2500):
        for pos, ending in TAGS:
            if not any(s.pos == pos and s.tagged for s in known.senses(base)):
                continue
            form = form_of(Inflected(base, pos, ending), british)
            # of what cannot be counted it has no plural
            if form and base not in GRAMMAR and theirs(base, pos, ending) != (base,):
                asked += 1
                if form not in theirs(base, pos, ending):
                    apart.add(f"{base} {ending} {form}")
    assert asked > 4000
    assert apart <= BOTH_RIGHT | THEIR_MISTAKES, sorted(apart - BOTH_RIGHT - THEIR_MISTAKES)


def test_irregular_forms_against_another_library() -> None:
    pos = {"-ed": VERB, "-en": VERB, "-s": NOUN, "-er": ADJECTIVE, "-est": ADJECTIVE}
    apart = {
        f"{row['base']} {row['ending']} {row['form']}"
        for row in read_table(rules_folder() / "meanings" / "irregular.tsv")
        if row["form"] not in theirs(row["base"], pos[row["ending"]], row["ending"])
        and row["base"] not in getLemma(row["form"], pos[row["ending"]].upper())
    }
    assert apart <= BOTH_RIGHT


@pytest.mark.parametrize(
    ("form", "wanted"),
    [
        # common practice, no source
        ("ran", Inflected("run", VERB, PAST)),
        ("run", Inflected("run", VERB, PARTICIPLE)),
        ("feet", Inflected("foot", NOUN, PLURAL_OR_THIRD)),
        ("leaves", Inflected("leaf", NOUN, PLURAL_OR_THIRD)),
        ("leaves", Inflected("leave", VERB, PLURAL_OR_THIRD)),
        ("biggest", Inflected("big", ADJECTIVE, SUPERLATIVE)),
        ("lying", Inflected("lie", VERB, ING)),
        ("hoping", Inflected("hope", VERB, ING)),
        ("dogs'", Inflected("dog", NOUN, PLURAL_OR_THIRD, "'")),
        ("men's", Inflected("man", NOUN, PLURAL_OR_THIRD, "'s")),
        ("cat", Inflected("cat", NOUN, BASE)),
    ],
)
def test_what_a_form_may_be(form: str, wanted: Inflected) -> None:
    assert wanted in inflections(form)
    assert form_of(wanted, lexicon(BRITISH)) in (form, form.removesuffix("'"), form.removesuffix("'s"), form)


def test_what_a_form_is_not() -> None:
    assert not any(i.base in ("hop", "leafe") for i in inflections("hoping") + inflections("leaves"))
    assert spelt("leave", VERB, PLURAL_OR_THIRD) == ["leaves"]
    assert spelt("leaf", NOUN, PLURAL_OR_THIRD) == ["leaves"]


def test_each_country_has_its_spelling() -> None:
    one = Inflected("travel", VERB, PAST)
    assert form_of(one, lexicon(BRITISH)) in spelt("travel", VERB, PAST)
    assert form_of(one, lexicon(AMERICAN)) in spelt("travel", VERB, PAST)
