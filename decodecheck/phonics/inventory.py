"""The inventory: which graphemes there are and which sounds each can stand for (`rules/inventory.tsv`)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from decodecheck.phonics.sounds import Sound, has_vowel, sound_codes, sound_of
from decodecheck.resources import rules_folder
from decodecheck.tables import Row, read_each, read_table

BARE = {"y": "yes", "n": "no", "a": "ask"}


@dataclass(frozen=True, slots=True)
class Correspondence:
    """A grapheme with one sound.

    `bare` says what naming the grapheme alone teaches: "yes" this sound, "no" not this one, "ask" the user must say which.
    `cost` is what the aligner pays for it; `place` is "", "final" or "ending" (see the head of the data file).
    """

    grapheme: str
    sound: Sound
    key_word: str
    bare: str
    cost: int
    place: str

    @property
    def key(self) -> str:
        """The correspondence as a short string, unique in the inventory: "ea|DRESS"."""
        return f"{self.grapheme}|{'+'.join(self.sound)}"

    @property
    def split(self) -> bool:
        """Is the grapheme a split digraph?"""
        return "-" in self.grapheme

    @property
    def vowel(self) -> bool:
        """Does it hold a vowel sound?"""
        return has_vowel(self.sound)


def divided(key: str) -> tuple[str, Sound]:
    """Grapheme and sound of a correspondence from its key."""
    grapheme, _, codes = key.partition("|")
    return grapheme, sound_of(codes)


class Inventory:
    """All correspondences, by key and by grapheme."""

    def __init__(self, correspondences: list[Correspondence]) -> None:
        self.all = tuple(correspondences)
        self.by_key = {c.key: c for c in correspondences}
        self.by_grapheme: dict[str, list[Correspondence]] = {}
        for c in correspondences:
            self.by_grapheme.setdefault(c.grapheme, []).append(c)

    def get(self, grapheme: str, sound: Sound) -> Correspondence | None:
        """The correspondence of a grapheme with a sound, if the inventory has it."""
        return self.by_key.get(f"{grapheme}|{'+'.join(sound)}")


@cache
def inventory() -> Inventory:
    """The inventory shipped with the package. Raises UserError, with the line, for a row that cannot be read."""
    return Inventory(read_each(rules_folder() / "inventory.tsv", _correspondence))


def _correspondence(row: Row) -> Correspondence:
    sound = () if row["sound"] == "-" else tuple(row["sound"].split("+"))
    for code in sound:
        if code not in sound_codes():
            raise ValueError(f"{code} is no code of sounds.tsv")
    if row["bare"] not in BARE:
        raise ValueError(f"{row['bare']!r} stands where y, n or a has to")
    return Correspondence(row["grapheme"], sound, row["key_word"], BARE[row["bare"]], int(row["cost"]), row["place"])


@dataclass(frozen=True, slots=True)
class Together:
    """A combination that schools teach as one item: its name, the correspondences it may stand for, by key, and a key word for
    each of these. Its name alone means what has the first key word."""

    name: str
    parts: tuple[tuple[str, ...], ...]
    key_words: tuple[str, ...]

    @property
    def key_word(self) -> str:
        """The word that the name alone stands for."""
        return self.key_words[0]


@cache
def together() -> dict[str, Together]:
    """The taught-together combinations of `rules/together.tsv` by name; one name may cover several sequences."""
    found: dict[str, Together] = {}
    for row in read_table(rules_folder() / "together.tsv"):
        parts, word = tuple(row["correspondences"].split(" ")), row["key_word"]
        old = found.get(row["name"], Together(row["name"], (), ()))
        found[row["name"]] = Together(row["name"], (*old.parts, parts), (*old.key_words, word))
    return found


@cache
def also_accepted() -> tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]:
    """Pairs (canonical sequence, other sequence) of correspondence keys, from `rules/also_accepted.tsv`."""
    return tuple(
        (tuple(row["segmentation"].split(" ")), tuple(row["also"].split(" ")))
        for row in read_table(rules_folder() / "also_accepted.tsv")
    )
