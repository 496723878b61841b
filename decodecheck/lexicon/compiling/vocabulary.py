"""The words to compile: dictionary entries, corrected by the hand-made files, and regular inflections by rule."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from decodecheck.lexicon.analysis import not_endings
from decodecheck.lexicon.compiling.tidy import is_numeral, verb_of, without_syllable, without_t
from decodecheck.lexicon.endings import Split, attach, same_sound, splits
from decodecheck.phonics.sounds import LEXICONS, reference_accent, sound_codes, split_stress
from decodecheck.tables import read_table

LISTED, DERIVED, OVERRIDE = "listed", "derived", "override"
BASE_ZIPF = 2.6
"""A word rarer than this is no base of an ending and no half of a compound in what is compiled."""
LIVELY_ZIPF = 2.2
"""A rarer verb in -ge does not take a participle away from its neighbour: longed is of long, not of longe; singed of singe."""
NUMERAL_WORDS = frozenset(("di", "dix", "div", "li", "liv", "mi", "mix", "mm", "mmm", "mmmm", "vi"))
"""What looks like a Roman numeral and is a word or a name as well."""
INFLECTIONS = ("-s", "-es", "-ed", "-ing", "-er", "-est", "-ly", "-y", "'s")


@dataclass
class Sense:
    """One sense of a word in one lexicon: a label, parts of speech, its pronunciations (any will do), where it is from."""

    label: str
    pos: str
    pronunciations: list[str]
    origin: str = LISTED
    rare: bool = False


@dataclass
class Vocabulary:
    """Every word of one lexicon with its senses."""

    lexicon: str
    zipf: dict[str, float]
    senses: dict[str, list[Sense]] = field(default_factory=dict)
    names: set[str] = field(default_factory=set)
    sounds: set[str] = field(default_factory=set)
    by_hand: set[str] = field(default_factory=set)
    verbs: dict[str, list[str]] = field(default_factory=dict)
    """Verbs that no source lists, or not with this sound, of forms that one does: bases of those, no words themselves."""

    def known(self, word: str) -> list[str]:
        """Pronunciations of a word in its everyday senses, or of the verb that a listed participle has."""
        found = [p for sense in self.senses.get(word, ()) if not sense.rare for p in sense.pronunciations]
        return found + self.verbs.get(word, [])

    def is_name(self, word: str) -> bool:
        """Is the word only a name?"""
        return word in self.names

    def listed(self, word: str) -> bool:
        """Is the word one of the lexicon, not merely told from a form of it?"""
        return word in self.senses

    def rank(self, word: str) -> float:
        """How common the word is, on the Zipf scale."""
        return self.zipf.get(word, 0.0)

    def common(self, word: str) -> bool:
        """Is the word common enough to be a base or a half of a compound?"""
        return (
            self.zipf.get(word, 0.0) >= BASE_ZIPF and word in self.senses and word not in self.names and len(word) > 1
        )


def read_frequencies(rules: Path) -> dict[str, float]:
    """Zipf frequencies by word, in the order of the list."""
    return {row["word"]: float(row["zipf"]) for row in read_table(rules / "frequency" / "zipf.tsv")}


def read_vocabularies(rules: Path) -> dict[str, Vocabulary]:
    """Both lexicons, complete, from the files under `rules`."""
    zipf = read_frequencies(rules)
    found = {}
    for lexicon in LEXICONS:
        vocabulary = Vocabulary(lexicon, zipf)
        _read_dictionary(vocabulary, rules)
        _read_hand_made(vocabulary, rules)
        _without_numerals(vocabulary)
        _derive(vocabulary)
        _find_verbs(vocabulary)
        found[lexicon] = vocabulary
    return found


def _read_dictionary(vocabulary: Vocabulary, rules: Path) -> None:
    for row in read_table(rules / "pronunciations" / f"{vocabulary.lexicon}.tsv"):
        senses = vocabulary.senses.setdefault(row["word"], [])
        said = without_t(row["word"], without_syllable(row["word"], row["pronunciation"]))
        senses.append(Sense(row["pos"].lower(), row["pos"], [said]))
        if row["name"]:
            vocabulary.names.add(row["word"])


def _variants(cell: str, word: str, lexicon: str) -> list[str]:
    found = [p.strip() for p in cell.split("|") if p.strip()]
    for pronunciation in found:
        if not valid(pronunciation, lexicon):
            raise ValueError(f"{word}: {pronunciation!r} is not in the {lexicon} notation")
    return found


def valid(pronunciation: str, lexicon: str) -> bool:
    """Does a pronunciation use only tokens of the notation?"""
    accent = reference_accent(lexicon)
    known = {half for code in sound_codes().values() for half in code.ipa[accent]}
    return bool(pronunciation) and all(t in known for t in split_stress(pronunciation)[0])


def _read_hand_made(vocabulary: Vocabulary, rules: Path) -> None:
    """Supplement files replace what the dictionaries say of a word.

    Raises ValueError for a pronunciation that is not in the notation of its accent.
    """
    column = vocabulary.lexicon
    for name in ("words", "names", "corrections"):
        for row in read_table(rules / "supplement" / f"{name}.tsv"):
            if row[column]:
                vocabulary.senses[row["word"]] = [Sense("", "", _variants(row[column], row["word"], column))]
                if row["kind"] == "name":
                    vocabulary.names.add(row["word"])
                elif row["kind"]:
                    vocabulary.names.discard(row["word"])
                vocabulary.by_hand.add(row["word"])
            if row["kind"] == "sound":
                vocabulary.sounds.add(row["word"])
    for row in read_table(rules / "supplement" / "variants.tsv"):
        if row[column]:
            vocabulary.senses[row["word"]] = [Sense("", "", _variants(row[column], row["word"], column))]
    replaced: set[str] = set()
    for row in read_table(rules / "supplement" / "senses.tsv"):
        if not row[column]:
            continue
        if row["word"] not in replaced:
            replaced.add(row["word"])
            vocabulary.senses[row["word"]] = []
            vocabulary.names.discard(row["word"])
        vocabulary.senses[row["word"]].append(
            Sense(row["sense"], row["pos"], _variants(row[column], row["word"], column), rare=row["rare"] == "y")
        )


def _without_numerals(vocabulary: Vocabulary) -> None:
    """Leave out Roman numerals: they are not read as words. Their possessives go with them."""
    for word in list(vocabulary.senses):
        if is_numeral(word.removesuffix("'s")) and word.removesuffix("'s") not in NUMERAL_WORDS:
            del vocabulary.senses[word]


def _find_verbs(vocabulary: Vocabulary) -> None:
    """Verbs that no source lists, or lists in another form only, of listed words in -ed and -ing (assorted, subjected)."""
    for word, senses in vocabulary.senses.items():
        ending = "-ed" if word.endswith("ed") else "-ing" if word.endswith("ing") else ""
        if not ending or word in vocabulary.names or (word, ending) in not_endings():
            continue
        bases = [s.base for s in splits(word) if s.ending == ending and s.base in vocabulary.senses]
        for pronunciation in [p for sense in senses for p in sense.pronunciations]:
            known = [
                built
                for b in bases
                for p in vocabulary.known(b)
                for built, _ in attach(b, p, ending, vocabulary.lexicon)
            ]
            if any(same_sound(built, pronunciation) for built in known):
                continue
            words = [b for b in bases if not vocabulary.is_name(b)]
            found = verb_of(word, pronunciation, vocabulary.lexicon, words)
            if found and (found[0] in words or (ending == "-ed" and not bases)):
                vocabulary.verbs.setdefault(found[0], []).append(found[1])


def _derive(vocabulary: Vocabulary) -> None:
    """Inflected words that no source lists, from their bases; twice, so that *runners* follows *runner*.

    A possessive always follows its base: the sources give some of them another vowel, or an ending that is not its own.
    """
    for word in [w for w in vocabulary.senses if w.endswith("'s") and w[:-2] in vocabulary.senses]:
        if word in vocabulary.by_hand:
            continue
        senses = derive(word, vocabulary)
        if senses:
            vocabulary.senses[word] = senses
    for _ in range(2):
        new: dict[str, list[Sense]] = {}
        for word in vocabulary.zipf:
            if word not in vocabulary.senses:
                senses = derive(word, vocabulary)
                if senses:
                    new[word] = senses
        vocabulary.senses.update(new)


def derive(word: str, vocabulary: Vocabulary) -> list[Sense]:
    """Senses of an unlisted word as base + ending, from the likeliest base."""
    options = [
        split
        for split in splits(word)
        if split.ending in INFLECTIONS
        and split.base in vocabulary.senses
        and len(split.base) > 1
        and (word, split.ending) not in not_endings()
    ]
    if not options:
        return []
    best = max(options, key=lambda split: _likelihood(split, word, vocabulary))
    return [
        Sense(
            sense.label,
            sense.pos,
            list(
                dict.fromkeys(attach(best.base, p, best.ending, vocabulary.lexicon)[0][0] for p in sense.pronunciations)
            ),
            DERIVED,
        )
        for sense in _inflecting(vocabulary.senses[best.base], best.ending)
    ]


def _likelihood(split: Split, word: str, vocabulary: Vocabulary) -> tuple[bool, bool, float]:
    """Sorts the bases that a word may have, likeliest last: hiss+ed, not his+s+ed; breathe+d, not breath+ed; the commonest."""
    zipf = vocabulary.zipf.get(split.base, 0.0)
    as_it_stands = word[: len(split.base) + 1]
    halved = split.change == "doubled" and as_it_stands[-1] in "sflz" and vocabulary.common(as_it_stands)
    halved = halved or (split.ending == "-ly" and len(split.base) < 4 and split.base[-1] == "l")
    with_e = split.base.endswith(("the", "ce", "ve", "se")) and not split.base.endswith("sse")
    with_e = with_e or (split.base.endswith("ge") and zipf >= LIVELY_ZIPF)
    return not halved, with_e and split.ending in ("-ed", "-ing"), zipf


_TAKES = {
    "-s": {"NOUN", "VERB"}, "-es": {"NOUN", "VERB"}, "-ed": {"VERB"}, "-ing": {"VERB"}, "-er": {"VERB", "ADJ"},
    "-est": {"ADJ"}, "-ly": {"ADJ"}, "-y": {"NOUN", "VERB"}, "'s": {"NOUN", "PROPN"},
}  # fmt: skip
"""The parts of speech that take an ending: no plural of an adjective, no -ed on a noun."""


def _inflecting(senses: list[Sense], ending: str) -> list[Sense]:
    """The senses of a base that can take an ending; all of them where none is marked so."""
    fitting = [s for s in senses if not s.pos or _TAKES[ending] & set(s.pos.split(","))]
    return [s for s in fitting if not s.rare] or fitting or senses
