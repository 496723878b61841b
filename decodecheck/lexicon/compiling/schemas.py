"""What each data file under `rules/` holds: its columns, what must be there, what a cell may say (see also the files' heads)."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.letters import spell
from decodecheck.lexicon.meanings import CATEGORIES
from decodecheck.lexicon.word_classes import WORD_CLASSES
from decodecheck.phonics.sounds import ACCENTS, AMERICAN, BRITISH, reference_accent, split_stress
from decodecheck.tables import Row, read_table

POS = ("NOUN", "VERB", "PAST", "PART", "ADJ", "ADV", "PROPN")
OPTIONS = ("start", "end", "plural", "past-form", "ing", "ly", "noun-like", "name", "comma")
"""What a context rule may ask for that is no class of words (see the head of context/rules.tsv)."""
DEAREST = 60
"""The highest cost that a correspondence has."""


class Known:
    """What rows may speak of, read from the folder that is looked through."""

    def __init__(self, rules: Path) -> None:
        self.rules = rules

    @cached_property
    def sounds(self) -> dict[str, Row]:
        """The codes of sounds."""
        return {row["code"]: row for row in read_table(self.rules / "sounds.tsv")}

    @cached_property
    def tokens(self) -> dict[str, frozenset[str]]:
        """What a pronunciation is written with, by lexicon."""
        return {
            name: frozenset(half for row in self.sounds.values() for half in row[reference_accent(name)].split(" "))
            for name in (BRITISH, AMERICAN)
        }

    @cached_property
    def correspondences(self) -> frozenset[str]:
        """The inventory, as grapheme|sound."""
        rows = read_table(self.rules / "inventory.tsv")
        return frozenset(f"{row['grapheme']}|{'' if row['sound'] == '-' else row['sound']}" for row in rows)

    @cached_property
    def graphemes(self) -> frozenset[str]:
        """The graphemes of the inventory."""
        return frozenset(key.partition("|")[0] for key in self.correspondences)

    @cached_property
    def weighted(self) -> frozenset[str]:
        """What has a weight in the estimate of how common a word is in books for young children."""
        return frozenset(row["part"] for row in read_table(self.rules / "child" / "weights.tsv"))

    @cached_property
    def classes(self) -> frozenset[str]:
        """The classes of words that context rules may name."""
        return frozenset(row["class"] for row in read_table(self.rules / "context" / "classes.tsv"))

    @cached_property
    def senses(self) -> dict[str, set[str]]:
        """The senses of each word: by hand, else by the parts of speech that the dictionaries tell apart."""
        found: dict[str, set[str]] = {}
        for row in read_table(self.rules / "supplement" / "senses.tsv"):
            found.setdefault(row["word"], set()).add(row["sense"])
        by_hand = set(found)
        for name in (BRITISH, AMERICAN):
            for row in read_table(self.rules / "pronunciations" / f"{name}.tsv"):
                if row["word"] not in by_hand and row["pos"]:
                    found.setdefault(row["word"], set()).add(row["pos"].lower())
        return found

    def senses_of(self, word: str) -> set[str]:
        """The senses of a word, or of the words it may be an inflected form of."""
        found = set(self.senses.get(word, ()))
        bases = {
            word[: -len(end)] + tail
            for end in ("s", "es", "ed", "d", "ing", "er")
            for tail in ("", "e")
            if word.endswith(end)
        }
        bases |= {base[:-1] for base in bases if base[-2:-1] == base[-1:]}
        return found or {sense for base in bases for sense in self.senses.get(base, ())}


Wrong = Callable[[str, Known], str]
"""What is wrong with a cell, as the end of a sentence; "" where nothing is."""


@dataclass(frozen=True, slots=True)
class Column:
    """Whether a cell must be there, and what it may say."""

    wrong: Wrong | None = None
    required: bool = True


@dataclass(frozen=True, slots=True)
class Schema:
    """A file: its columns in order, the columns that tell its rows apart, what is wrong with a row as a whole, and its form."""

    columns: Mapping[str, Column]
    form: str
    key: tuple[str, ...] = ()
    wrong: Callable[[Row, Known], str] | None = None


def one_of(*values: str) -> Wrong:
    """A cell that is one of some words."""
    return lambda cell, _: "" if cell in values else f"is none of: {', '.join(values)}."


def like(pattern: str, what: str) -> Wrong:
    """A cell that fits a regular expression."""
    expression = re.compile(pattern)
    return lambda cell, _: "" if expression.fullmatch(cell) else f"is not {what}."


def number(low: float, high: float) -> Wrong:
    """A cell that is a number."""

    def wrong(cell: str, _: Known) -> str:
        fits = re.fullmatch(r"\d+(?:\.\d+)?", cell) and low <= float(cell) <= high
        return "" if fits else f"is no number from {low:g} to {high:g}."

    return wrong


def codes(cell: str, known: Known) -> str:
    """Codes of sounds, joined by +; - for none."""
    return unknown_code(cell.split("+"), known) if cell != "-" else ""


def unknown_code(given: Iterable[str], known: Known) -> str:
    """What is wrong with codes of sounds."""
    unknown = [code for code in given if code not in known.sounds]
    return f"has `{unknown[0]}`, which is no code of sounds.tsv." if unknown else ""


def correspondences(cell: str, known: Known) -> str:
    """Correspondences of the inventory, with one blank between them."""
    unknown = [part for part in cell.split(" ") if part not in known.correspondences]
    return f"has `{unknown[0]}`, which is no grapheme|sound of inventory.tsv." if unknown else ""


def segmentation(cell: str, known: Known) -> str:
    """Graphemes with the codes of their sounds, which need not be in the inventory."""
    for part in cell.split(" "):
        grapheme, bar, sound = part.partition("|")
        if not bar or not grapheme:
            return f"has `{part}`, which is not written grapheme|sound."
        wrong = unknown_code([c for c in sound.split("+") if c and c != "~"], known)
        if wrong:
            return wrong
    return ""


def notation(lexicon: str) -> Wrong:
    """Pronunciations in the tokens of a lexicon, with | between variants."""

    def wrong(cell: str, known: Known) -> str:
        for variant in cell.split("|"):
            if not variant.strip():
                return "has nothing before or after a |."
            tokens = split_stress(variant.strip())[0]
            unknown = [t for t in tokens if t not in known.tokens[lexicon]]
            if unknown or not tokens:
                return f"has `{''.join(unknown)}`, which is no sound of the {lexicon} notation."
        return ""

    return wrong


def spoken_parts(cell: str, known: Known) -> str:
    """Pronunciations in the tokens of both lexicons."""
    tokens = known.tokens[BRITISH] | known.tokens[AMERICAN]
    unknown = [t for t in cell.replace("|", " ").split() if t not in tokens]
    return f"has `{unknown[0]}`, which is no sound of sounds.tsv." if unknown else ""


def parts_of_speech(cell: str, _: Known) -> str:
    """Parts of speech, with commas."""
    unknown = [p for p in cell.split(",") if p not in POS]
    return f"has `{unknown[0]}`, which is none of: {', '.join(POS)}." if unknown else ""


def conditions(cell: str, known: Known) -> str:
    """The conditions of a context rule."""
    for part in cell.split(" "):
        match = re.fullmatch(r"!?([+-]\d|far|own)=(.+)", part)
        if not match:
            return f"has `{part}`, which is not written like -1=determiner."
        for option in match[2].split("|"):
            if option not in known.classes and option not in OPTIONS and not re.fullmatch(r'"[^"]+"', option):
                return f"has `{option}`, which is no class of classes.tsv."
    return ""


def votes(cell: str, _: Known) -> str:
    """The votes of a context rule."""
    for part in cell.split(" "):
        match = re.fullmatch(r"([A-Z]+)[+-]\d+(?:\.\d+)?", part)
        if not match or match[1] not in POS:
            return f"has `{part}`, which is not written like NOUN+3."
    return ""


def cues(cell: str, _: Known) -> str:
    """Words that tell a sense, each with its place if that matters."""
    for cue in cell.split(" "):
        for part in cue.split("&"):
            if not re.fullmatch(r"!?(?:[+-]\d:)?[a-z'-]+\*?", part):
                return f"has `{cue}`, which is not written like boat* or +1:of."
    return ""


def item(cell: str, known: Known) -> str:
    """A grapheme as progressions name it."""
    return "" if cell.partition(" as in ")[0] in known.graphemes else "is no grapheme of inventory.tsv."


def category(cell: str, known: Known) -> str:
    """A broad category that has a weight."""
    return "" if cell in known.weighted else "has no weight in child/weights.tsv."


WORD = Column(like(r"[a-z'-]+(?:\.[a-z]+)?", "a word in lower-case letters"))
NOTE = Column(required=False)
SENSE = r"[a-z]+:[1-9]\d*:\d+:\d+"
SET = r"[^\s:]+:[1-9]\d*(?::\d+:\d+)?"
SETS = like(r"[^\s:]+:[1-9]\d*(?: [^\s:]+:[1-9]\d*)*", "sets such as shout:1")


def _spells(row: Row, _: Known) -> str:
    found = spell([part.partition("|")[0] for part in row["segmentation"].split(" ")])
    return "" if found == row["word"] else f"`{row['segmentation']}` spells `{found}`, not `{row['word']}`."


def _together(row: Row, _: Known) -> str:
    found = spell([part.partition("|")[0] for part in row["correspondences"].split(" ")])
    return "" if found == row["name"] else f"`{row['correspondences']}` spells `{found}`, not `{row['name']}`."


def _also(row: Row, _: Known) -> str:
    # a split digraph may close around two graphemes here, so letters are compared without their order
    one, other = ("".join(sorted(c for c in _letters(row[column]) if c != "-")) for column in ("segmentation", "also"))
    if one != other:
        return f"`{row['segmentation']}` and `{row['also']}` do not have the same letters."
    missing = [letter for letter in set(one) if one.count(letter) > row["example"].count(letter)]
    return f"`{row['example']}` does not hold `{row['segmentation']}`." if missing else ""


def _letters(correspondences: str) -> str:
    return "".join(part.partition("|")[0] for part in correspondences.split(" "))


def _halves(row: Row, _: Known) -> str:
    return (
        ""
        if row["left"] + row["right"] == row["word"]
        else f"`{row['left']}` and `{row['right']}` do not spell `{row['word']}`."
    )


def _either(row: Row, _: Known) -> str:
    return "" if row[BRITISH] or row[AMERICAN] else f"`{row['word']}` has no pronunciation."


def _sense(row: Row, known: Known) -> str:
    senses = known.senses_of(row["word"])
    if row["sense"] in senses:
        return ""
    own = f"its senses are {', '.join(sorted(senses))}" if senses else "it has none to choose from"
    return f"`{row['word']}` has no sense `{row['sense']}`: {own}."


SPOKEN = {BRITISH: Column(notation(BRITISH), required=False), AMERICAN: Column(notation(AMERICAN), required=False)}
ACCENT_COLUMNS = {accent: Column() for accent in ACCENTS}
TABS = "Cells have a tab between them; the head of the file says what they hold."
SCHEMAS = {
    "sounds.tsv": Schema(
        {"code": Column(), "kind": Column(one_of("vowel", "consonant"))} | ACCENT_COLUMNS
        | {"link": Column(one_of("y"), required=False), "key_word": Column()},
        TABS, ("code",),
    ),
    "accent_spellings.tsv": Schema(
        {"accent": Column(one_of(*ACCENTS)), "grapheme": Column(item), "sound": Column(codes), "ipa": Column()},
        TABS, ("accent", "grapheme", "sound"),
    ),
    "inventory.tsv": Schema(
        {
            "grapheme": Column(like(r"[a-z'-]+", "written in small letters")), "sound": Column(codes), "key_word": Column(),
            "bare": Column(one_of("y", "n", "a")), "cost": Column(number(1, DEAREST)),
            "place": Column(one_of("final", "late", "ending"), required=False), "note": NOTE,
        },
        "Write grapheme, sound, key word, bare, cost, place and note, with a tab between them.", ("grapheme", "sound"),
    ),
    "together.tsv": Schema(
        {"name": Column(), "correspondences": Column(correspondences), "key_word": Column()},
        TABS, ("name", "correspondences"), _together,
    ),
    "also_accepted.tsv": Schema(
        {"segmentation": Column(correspondences), "also": Column(correspondences), "example": Column()},
        TABS, ("segmentation", "also"), _also,
    ),
    "not_endings.tsv": Schema({"word": WORD, "ending": Column(one_of(*ENDINGS))}, TABS, ("word", "ending")),
    "compounds.tsv": Schema({"word": WORD, "left": WORD, "right": WORD}, TABS, ("word",), _halves),
    "not_compounds.tsv": Schema(
        {"word": Column(like(r"-?[a-z]+-?", "a word, or letters with a hyphen at one end"))}, "Write one word a line.", ("word",)
    ),
    "told_apart.tsv": Schema(
        {"word": Column(like(r"[a-z']+\*?", "a word, or its beginning with a star")), "correspondence": Column(correspondences), "instead": Column(correspondences)},
        TABS, ("word", "correspondence"),
    ),
    "overrides.tsv": Schema(
        {"word": WORD, "accent": Column(one_of(BRITISH, AMERICAN, "both")), "segmentation": Column(segmentation), "why": Column()},
        TABS, ("word", "accent", "segmentation"), _spells,
    ),
    "word_parts.tsv": Schema(
        {"letters": Column(like(r"-[a-z]+|[a-z]+-", "letters with a hyphen at one end")), "pronunciations": Column(spoken_parts)},
        TABS, ("letters",),
    ),
    "unfit_words.tsv": Schema(
        {"word": WORD, "kind": Column(one_of("unsuitable", "no word", "capital", "american", "british"))}, TABS, ("word",)
    ),
    "homophones.tsv": Schema({"word": WORD, "named": Column(one_of("yes", "no"))}, TABS, ("word",)),
    "screening_check.tsv": Schema(
        {"section": Column(one_of("1", "2")), "kind": Column(one_of("gpc", "structure")), "value": Column()},
        TABS, ("section", "kind", "value"),
    ),
    "word_classes.tsv": Schema({"word": WORD, "class": Column(one_of(*WORD_CLASSES))}, TABS, ("word",)),
    "confusable.tsv": Schema(
        {"one": Column(item), "other": Column(item), "kind": Column(one_of("shape", "sound", "both")), "source": Column()},
        TABS, ("one", "other"),
    ),
    "context/classes.tsv": Schema({"class": Column(), "words": Column()}, TABS, ("class",)),
    "context/rules.tsv": Schema({"where": Column(conditions), "votes": Column(votes), "why": NOTE}, TABS, ("where",)),
    "context/cues.tsv": Schema(
        {"word": WORD, "sense": Column(), "weight": Column(number(0.5, 20)), "words": Column(cues)}, TABS, (), _sense
    ),
    "supplement/words.tsv": Schema(
        {"word": WORD, "kind": Column(one_of("word", "compound", "sound"))} | SPOKEN | {"note": NOTE}, TABS, ("word",), _either
    ),
    "supplement/names.tsv": Schema({"word": WORD, "kind": Column(one_of("name", "name-word"))} | SPOKEN | {"note": NOTE}, TABS, ("word",), _either),
    "supplement/corrections.tsv": Schema(
        {"word": WORD, "kind": Column(one_of("word", "name", "name-word", "sound"), required=False)} | SPOKEN | {"note": NOTE}, TABS, ("word",), _either
    ),
    "supplement/variants.tsv": Schema({"word": WORD} | SPOKEN | {"note": NOTE}, TABS, ("word",), _either),
    "supplement/senses.tsv": Schema(
        {"word": WORD, "sense": Column(), "pos": Column(parts_of_speech)} | SPOKEN
        | {"gloss": Column(), "rare": Column(one_of("y"), required=False)},
        TABS, ("word", "sense"), _either,
    ),
    "child/books.tsv": Schema({"word": WORD, "count": Column(like(r"[1-9]\d*", "a whole number")), "books": Column(number(1, 99))}, TABS, ("word",)),
    "child/categories.tsv": Schema({"word": WORD, "category": Column(category)}, TABS, ("word",)),
    "child/everyday.tsv": Schema({"word": WORD, "topic": Column(like(r"[a-z]+", "one word in small letters"))}, TABS, ("word",)),
    "child/weights.tsv": Schema(
        {"part": Column(), "weight": Column(like(r"-?\d(?:\.\d+)?", "a number such as 0.5 or -0.25")), "why": Column()}, TABS, ("part",)
    ),
    "meanings/synsets.tsv": Schema(
        {
            "category": Column(one_of(*CATEGORIES)),
            "words": Column(like(rf"{SET}(?: {SENSE})*", "words such as shout:1:64:39, the first perhaps without counts")),
            "wider": Column(SETS, required=False), "near": Column(SETS, required=False),
        },
        TABS, ("category", "words"),
    ),
    "meanings/irregular.tsv": Schema(
        {"form": WORD, "base": WORD, "ending": Column(one_of("-s", "-ed", "-en", "-er", "-est"))}, TABS, ("form", "base", "ending"),
    ),
    "frequency/zipf.tsv": Schema({"word": WORD, "zipf": Column(number(0, 9))}, TABS, ("word",)),
} | {
    f"pronunciations/{name}.tsv": Schema(
        {"word": WORD, "pos": NOTE, "pronunciation": Column(notation(name)), "source": Column(), "name": Column(one_of("y"), required=False)},
        TABS, ("word", "pos", "pronunciation"),
    )
    for name in (BRITISH, AMERICAN)
}  # fmt: skip
"""Every data file, by its path under `rules/`."""
