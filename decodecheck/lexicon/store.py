"""The compiled lexicon at run time: memory-mapped columns, nothing aligned, nothing parsed."""

from __future__ import annotations

import json
import mmap
import sys
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any, overload
from zlib import crc32

from decodecheck.errors import Problem, UserError
from decodecheck.lexicon.items import Item, of_kind
from decodecheck.lexicon.letters import lay_out
from decodecheck.lexicon.units import Form, Unit
from decodecheck.phonics.align import Segment
from decodecheck.resources import compiled_folder, rules_folder

SCHEMA = 10
META, CHECKSUMS, MEASURED = "meta.json", "checksums.json", "measured.json"
UNFIT_KINDS = ("", "unsuitable", "no word", "capital", "american", "british")
"""What `rules/unfit_words.tsv` says of a word; nothing of most."""
NAMED = ("", "yes", "no")
"""Whether `rules/homophones.tsv` names a word to a teacher; it says nothing of most."""
ORIGINS = ("listed", "derived", "override", "predicted", "yours")
NEVER = 65535
"""The step of what is never taught."""
_DICTIONARY_AFTER = 1000
"""After looking up so many words a dictionary of all words pays for itself (about 20 ms)."""


@dataclass(frozen=True, slots=True)
class WordPart:
    """A known word inside a word: its reading by itself, and which units (from, to) of the longer word it covers."""

    word: str
    reading: Reading
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Reading:
    """One pronunciation of a word with its segmentation; `units` are what it asks to have been taught, `parts` the known words
    that it is made of."""

    segments: tuple[Segment, ...]
    units: tuple[Unit, ...]
    origin: str
    sense: str = ""
    pos: frozenset[str] = frozenset()
    parts: tuple[WordPart, ...] = ()

    @property
    def rare(self) -> bool:
        """Is this sense meant only if the words around it say so?"""
        return "RARE" in self.pos


Checksums = dict[str, tuple[int, int]]
"""Size and CRC-32 of each file of the compiled lexicon, by its name."""


def read_checksums(folder: Path) -> Checksums:
    """The checksums that were written with a compiled lexicon. Raises OSError, ValueError or TypeError where there are none."""
    found = json.loads((folder / CHECKSUMS).read_bytes())
    return {name: (int(size), int(crc)) for name, (size, crc) in found.items()}


def write_checksums(folder: Path) -> None:
    """Write the checksums of all files of a folder into it."""
    found = {p.name: (p.stat().st_size, crc32(p.read_bytes())) for p in sorted(folder.iterdir()) if p.name != CHECKSUMS}
    (folder / CHECKSUMS).write_text(json.dumps(found), encoding="utf-8")


def is_whole(checksums: Checksums, name: str, data: bytes | memoryview) -> bool:
    """Is a file as it was written?"""
    return checksums.get(name) == (len(data), crc32(data))


def read_whole(path: Path) -> bytes:
    """A file of the compiled lexicon. Raises UserError where it is missing or not as it was written."""
    try:
        data = path.read_bytes()
        whole = is_whole(read_checksums(path.parent), path.name, data)
    except (OSError, ValueError, TypeError, AttributeError):
        raise UserError(_not_compiled("is missing or damaged")) from None
    if not whole:
        raise UserError(_not_compiled("is damaged"))
    return data


class Tables:
    """What both lexicons share: words, frequencies, units, items, forms."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        try:
            meta = (folder / META).read_bytes()
            self.meta: dict[str, Any] = json.loads(meta)
            if self.meta["schema"] != SCHEMA or sys.byteorder != "little":
                raise UserError(_not_compiled("is of another version of the program"))
            self._checksums = read_checksums(folder)
            whole = is_whole(self._checksums, META, meta) and all(
                (folder / name).stat().st_size == size for name, (size, _) in self._checksums.items()
            )
        except (OSError, ValueError, TypeError, LookupError, AttributeError):
            raise UserError(_not_compiled("is missing or damaged")) from None
        if not whole:
            raise UserError(_not_compiled("is damaged"))
        self._item_texts: list[str] = self.meta["items"]
        self.unit_alternative = self.column("unit_alternative")
        self.alternative_item = self.column("alternative_item")
        self.item_flat = self.column("items")
        self.unit_form = self.column("unit_form")
        self.form_flat = self.column("forms")
        self.word_offset = self.column("word_offset")
        self.zipf = self.column("zipf")
        self.child_zipf = self.column("child_zipf")
        self.is_name = self.column("is_name")
        self.is_sound = self.column("is_sound")
        self.unfit_kind = self.column("unfit_kind")
        self.named_alike = self.column("named_alike")
        self._blob = self.column("words")
        self._looked_up: dict[str, int] = {}
        self._numbers: dict[str, int] | None = None
        self._units: dict[int, Unit] = {}

    def column(self, name: str) -> memoryview:
        """One column of whole numbers, memory-mapped. numpy, slow to load, is left to those who compute on whole columns.

        Raises UserError where it is not as it was written; that costs a hundredth of the time of `explain`.
        """
        try:
            with (self.folder / f"{name}.bin").open("rb") as file:
                view = memoryview(mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ))
        except (OSError, ValueError):
            raise UserError(_not_compiled("is missing or damaged")) from None
        if not is_whole(self._checksums, f"{name}.bin", view):
            raise UserError(_not_compiled("is damaged"))
        return view.cast(self.meta["columns"][name])

    @property
    def count(self) -> int:
        """How many words there are."""
        return len(self.word_offset) - 1

    def word(self, number: int) -> str:
        """The word of a number."""
        start, end = int(self.word_offset[number]), int(self.word_offset[number + 1]) - 1
        return bytes(self._blob[start:end]).decode()

    def words(self) -> list[str]:
        """All words, sorted; not to be changed."""
        return self._words

    @cached_property
    def _words(self) -> list[str]:
        return bytes(self._blob).decode().split("\n")[:-1]

    def number(self, word: str) -> int:
        """The number of a word, -1 if it is not there."""
        if self._numbers is not None:
            return self._numbers.get(word, -1)
        known = self._looked_up.get(word)
        if known is None:
            if len(self._looked_up) >= _DICTIONARY_AFTER:
                return self.numbers.get(word, -1)
            at = bisect_left(range(self.count), word, key=self.word)
            known = self._looked_up[word] = at if at < self.count and self.word(at) == word else -1
        return known

    @property
    def numbers(self) -> dict[str, int]:
        """The number of every word. Making it takes some 20 ms."""
        if self._numbers is None:
            self._numbers = {w: i for i, w in enumerate(self.words())}
        return self._numbers

    @cached_property
    def forms(self) -> list[Form]:
        """All forms: a grapheme with its sound."""
        return [
            (g, tuple(s.split("+")) if s else (), linked, irregular) for g, s, linked, irregular in self.meta["forms"]
        ]

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """All items by number."""
        return tuple(map(Item, self._item_texts))

    def items_of(self, kind: str) -> Iterator[Item]:
        """The items of one kind, in order."""
        return of_kind(self._item_texts, kind)

    def unit(self, number: int) -> Unit:
        """One interned unit."""
        unit = self._units.get(number)
        if unit is None:
            alternatives = []
            for a in range(int(self.unit_alternative[number]), int(self.unit_alternative[number + 1])):
                start, end = int(self.alternative_item[a]), int(self.alternative_item[a + 1])
                alternatives.append(tuple(Item(self._item_texts[i]) for i in self.item_flat[start:end]))
            start, end = int(self.unit_form[number]), int(self.unit_form[number + 1])
            unit = Unit(tuple(self.forms[i] for i in self.form_flat[start:end]), tuple(alternatives))
            self._units[number] = unit
        return unit


class Rising(Sequence[int]):
    """Numbers that mostly rise by one from place to place, each kept as what it is over its place (`over`)."""

    def __init__(self, over: memoryview) -> None:
        self.over = over

    @overload
    def __getitem__(self, place: int) -> int: ...
    @overload
    def __getitem__(self, place: slice) -> list[int]: ...
    def __getitem__(self, place: int | slice) -> int | list[int]:
        """The number at a place from the start. Raises IndexError beyond the end."""
        if isinstance(place, slice):
            return [self.over[i] + i for i in range(*place.indices(len(self.over)))]
        return int(self.over[place]) + place

    def __len__(self) -> int:
        return len(self.over)


MOST_KEPT = 4096
"""Words whose readings are kept once they have been asked for."""


class Lexicon:
    """The readings of one lexicon (British or American)."""

    def __init__(self, tables: Tables, name: str) -> None:
        self.tables = tables
        self.name = name
        self.word_sense = tables.column(f"{name}_word_sense")
        self.sense_reading = Rising(tables.column(f"{name}_sense_reading"))
        self.sense_label = tables.column(f"{name}_sense_label")
        self.reading_unit = tables.column(f"{name}_reading_unit")
        self.reading_origin = tables.column(f"{name}_reading_origin")
        self.units = tables.column(f"{name}_units")
        self.reading_part = tables.column(f"{name}_reading_part")
        self.part_reading = tables.column(f"{name}_part_reading")
        self.part_units = tables.column(f"{name}_part_units")
        self.unfit = tables.column(f"{name}_unfit")
        self._known: dict[str, tuple[Reading, ...]] = {}

    def has(self, word: str) -> bool:
        """Does the lexicon list or derive the word?"""
        number = self.tables.number(word)
        return number >= 0 and int(self.word_sense[number]) < int(self.word_sense[number + 1])

    def senses(self, word: str) -> range:
        """The numbers of a word's senses; empty for an unknown word."""
        number = self.tables.number(word)
        if number < 0:
            return range(0)
        return range(int(self.word_sense[number]), int(self.word_sense[number + 1]))

    def readings(self, word: str) -> list[Reading]:
        """All readings of a word, by sense; those of some thousand words are kept, since every step of an order asks again."""
        known = self._known.get(word)
        if known is None:
            known = tuple(
                self.reading(number, sense)
                for sense in self.senses(word)
                for number in range(int(self.sense_reading[sense]), int(self.sense_reading[sense + 1]))
            )
            if len(self._known) < MOST_KEPT:
                self._known[word] = known
        return list(known)

    def reading(self, number: int, sense: int = -1) -> Reading:
        """One reading by number, with the label of its sense (none for -1)."""
        start, end = int(self.reading_unit[number]), int(self.reading_unit[number + 1])
        units = tuple(self.tables.unit(int(u)) for u in self.units[start:end])
        label, _, pos = (
            self.tables.meta["labels"][int(self.sense_label[sense])].partition("|") if sense >= 0 else ("", "", "")
        )
        tags = frozenset(pos.split(",")) - {""}
        origin = ORIGINS[int(self.reading_origin[number])]
        return Reading(segments_of(units), units, origin, label, tags, tuple(self._parts(number)))

    def _parts(self, number: int) -> Iterator[WordPart]:
        for part in range(int(self.reading_part[number]), int(self.reading_part[number + 1])):
            reading = int(self.part_reading[part])
            first, last = self.part_units[2 * part], self.part_units[2 * part + 1]
            yield WordPart(self.word_of(reading), self.reading(reading), int(first), int(last))

    def word_of(self, reading: int) -> str:
        """The word that has a reading, by the reading's number."""
        sense = bisect_right(self.sense_reading, reading) - 1
        return self.tables.word(bisect_right(self.word_sense, sense) - 1)


def segments_of(units: Sequence[Unit]) -> tuple[Segment, ...]:
    """The segments of a reading with their letter positions, from the forms of its units."""
    return lay_out([form for unit in units for form in unit.forms])


def _not_compiled(state: str) -> Problem:
    return Problem(
        "compiled lexicon",
        f"The compiled lexicon {state}.",
        "In a checkout run `python -m decodecheck.lexicon.compiling.compile`; otherwise install the package again.",
    )


def inventory_hash(rules: Path) -> str:
    """CRC of the files that compiled items name and the program reads itself."""
    names = ("sounds.tsv", "accent_spellings.tsv", "inventory.tsv", "together.tsv", "also_accepted.tsv")
    data = b"".join((rules / name).read_bytes().replace(b"\r\n", b"\n") for name in names)
    return f"{crc32(data):08x}"


@cache
def tables() -> Tables:
    """The compiled tables, opened once. Raises UserError where they are missing, damaged or out of date."""
    found = Tables(compiled_folder())
    if found.meta["inventory"] != inventory_hash(rules_folder()):
        raise UserError(_not_compiled("is not of today's inventory"))
    return found


@cache
def lexicon(name: str) -> Lexicon:
    """The British or American lexicon, opened once."""
    return Lexicon(tables(), name)
