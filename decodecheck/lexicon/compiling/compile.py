"""Compile the lexicon: everything under `rules/` to the columns that the program reads.

    python -m decodecheck.lexicon.compiling.compile [--check]

Offline and deterministic; part of changing any file under `rules/`. `--check` only says whether the compiled form is of
today's files (exit code 1 where it is not).
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Generic, TypeVar

import numpy as np

from decodecheck.errors import UserError
from decodecheck.lexicon.analysis import Analysis
from decodecheck.lexicon.compiling.alike import alike_columns, by_hand_columns
from decodecheck.lexicon.compiling.analysed import Analysed, Senses, Units, analyse_lexicons
from decodecheck.lexicon.compiling.child import child_columns
from decodecheck.lexicon.compiling.lint import lint
from decodecheck.lexicon.compiling.meanings import meaning_columns
from decodecheck.lexicon.compiling.measured import measured
from decodecheck.lexicon.compiling.vocabulary import read_vocabularies
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.predict import save, train
from decodecheck.lexicon.store import (
    MEASURED,
    META,
    ORIGINS,
    SCHEMA,
    Tables,
    inventory_hash,
    is_whole,
    read_checksums,
    write_checksums,
)
from decodecheck.lexicon.units import MOST_ALTERNATIVES, Form, Unit
from decodecheck.phonics.sounds import AMERICAN, BRITISH, LEXICONS
from decodecheck.resources import compiled_folder, rules_folder

SOURCES = (
    "sounds.tsv", "accent_spellings.tsv", "inventory.tsv", "together.tsv", "also_accepted.tsv", "not_endings.tsv", "word_parts.tsv",
    "overrides.tsv", "compounds.tsv", "not_compounds.tsv", "told_apart.tsv", "supplement/*.tsv", "pronunciations/*.tsv",
    "frequency/zipf.tsv", "child/*.tsv", "unfit_words.tsv", "homophones.tsv", "meanings/synsets.tsv",
)  # fmt: skip
CODE = (
    "phonics/*.py",
    "lexicon/*.py",
    "lexicon/compiling/compile.py",
    "lexicon/compiling/alike.py",
    "lexicon/compiling/analysed.py",
    "lexicon/compiling/child.py",
    "lexicon/compiling/meanings.py",
    "lexicon/compiling/measured.py",
    "lexicon/compiling/tidy.py",
    "lexicon/compiling/vocabulary.py",
    "lexicon/compiling/overrides.py",
)

MOST_TOLD = 50
"""Mistakes in the data files that are told at a time."""
T = TypeVar("T")


def source_hash(rules: Path) -> str:
    """SHA-256 over the data files and the code that decides what they compile to."""
    digest = hashlib.sha256(str(SCHEMA).encode())
    package = Path(__file__).parents[2]
    for root, patterns in ((rules, SOURCES), (package, CODE)):
        for pattern in patterns:
            for path in sorted(root.glob(pattern)):
                digest.update(path.name.encode() + b"\0")
                digest.update(path.read_bytes().replace(b"\r\n", b"\n"))
    return digest.hexdigest()


class _Interner(Generic[T]):
    """Gives each distinct thing a number, in order of first sight."""

    def __init__(self) -> None:
        self.numbers: dict[T, int] = {}

    def __call__(self, thing: T) -> int:
        return self.numbers.setdefault(thing, len(self.numbers))


def compile_lexicon(rules: Path, target: Path) -> dict[str, object]:
    """Write the compiled lexicon to `target`; returns what the audit prints.

    Raises UserError with every mistake in the data files.
    """
    problems = lint(rules)
    if problems:
        raise UserError(*problems[:MOST_TOLD])
    analysed = analyse_lexicons(rules)
    vocabularies = read_vocabularies(rules)
    zipf = vocabularies[BRITISH].zipf
    words = sorted({word for lexicon in LEXICONS for word in analysed[lexicon]})
    names = vocabularies[BRITISH].names | vocabularies[AMERICAN].names
    sounds = vocabularies[BRITISH].sounds | vocabularies[AMERICAN].sounds
    everyday = {w for v in vocabularies.values() for w in v.senses if w not in v.names}
    number_of = {word: i for i, word in enumerate(words)}
    units: _Interner[Unit] = _Interner()
    forms: _Interner[Form] = _Interner()
    items: _Interner[Item] = _Interner()
    labels: _Interner[str] = _Interner()
    arrays: dict[str, np.ndarray] = {}
    for lexicon in LEXICONS:
        by_word: list[Senses] = [[] for _ in words]
        for word, senses in analysed[lexicon].items():
            by_word[number_of[word]] = senses
        built = Units(analysed[lexicon])
        sense_start, reading_start, unit_start = [0], [0], [0]
        sense_label: list[int] = []
        reading_origin: list[int] = []
        flat: list[int] = []
        analyses: list[tuple[Analysis, tuple[Unit, ...]]] = []
        numbered: dict[tuple[str, str], int] = {}
        for word, senses in zip(words, by_word):
            for sense in senses:
                sense_label.append(labels(f"{sense.label}|{sense.pos}"))
                seen: dict[tuple[int, ...], int] = {}
                for said in sense.readings:
                    own = built.of(word, said.pronunciation, said.analysis)
                    numbers = tuple(units(unit) for unit in own)
                    at = seen.setdefault(numbers, len(reading_origin))
                    numbered.setdefault((word, said.pronunciation), at)
                    if at < len(reading_origin):
                        continue
                    analyses.append((said.analysis, own))
                    flat += numbers
                    unit_start.append(len(flat))
                    reading_origin.append(ORIGINS.index(sense.origin))
                reading_start.append(len(unit_start) - 1)
            sense_start.append(len(reading_start) - 1)
        arrays |= {
            f"{lexicon}_word_sense": np.array(sense_start, np.uint32),
            # nearly every sense has one reading: what the numbers are over their places takes no room in a wheel
            f"{lexicon}_sense_reading": (np.array(reading_start) - np.arange(len(reading_start))).astype(np.uint16),
            f"{lexicon}_sense_label": np.array(sense_label, np.uint16),
            f"{lexicon}_reading_unit": np.array(unit_start, np.uint32),
            f"{lexicon}_reading_origin": np.array(reading_origin, np.uint8),
            f"{lexicon}_units": np.array(flat, np.uint16),
            **_parts(lexicon, analyses, numbered),
        }
    unit_list = list(units.numbers)
    if len(unit_list) > 65535:
        raise ValueError("more units than two bytes can number")
    unit_alternative, alternative_item, unit_form = [0], [0], [0]
    item_flat: list[int] = []
    form_flat: list[int] = []
    for unit in unit_list:
        for alternative in unit.alternatives:
            item_flat += [items(item) for item in alternative]
            alternative_item.append(len(item_flat))
        unit_alternative.append(len(alternative_item) - 1)
        form_flat += [forms(f) for f in unit.forms]
        unit_form.append(len(form_flat))
    arrays |= {
        "unit_alternative": np.array(unit_alternative, np.uint32),
        "alternative_item": np.array(alternative_item, np.uint32),
        "items": np.array(item_flat, np.uint16),
        "unit_form": np.array(unit_form, np.uint32),
        "forms": np.array(form_flat, np.uint16),
        **alike_columns(unit_list, arrays),
        **by_hand_columns(rules, words, arrays),
        "zipf": np.array([round(zipf.get(w, 0) * 100) for w in words], np.uint16),
        **child_columns(rules, words, analysed, zipf),
        **meaning_columns(rules, number_of),
        "is_sound": np.array([w in sounds for w in words], np.uint8),
        "is_name": np.array([w in names and w not in everyday for w in words], np.uint8),
    }
    blob = "\n".join(words).encode()
    offsets = np.cumsum([0] + [len(w.encode()) + 1 for w in words]).astype(np.uint32)
    arrays["words"] = np.frombuffer(blob + b"\n", np.uint8)
    arrays["word_offset"] = offsets
    final, target = target, target.with_name(f"{target.name}.{os.getpid()}")
    target.mkdir(parents=True)
    formats = {np.dtype(np.uint8): "B", np.dtype(np.uint16): "H", np.dtype(np.uint32): "I"}
    for name, array in arrays.items():
        (target / f"{name}.bin").write_bytes(array.astype(array.dtype.newbyteorder("<")).tobytes())
    for lexicon in LEXICONS:
        save(train(_regular(analysed[lexicon], names)), target / f"{lexicon}.ngrams")
    meta = {
        "columns": {name: formats[array.dtype] for name, array in arrays.items()},
        "schema": SCHEMA,
        "hash": source_hash(rules),
        "inventory": inventory_hash(rules),
        "items": list(map(str, items.numbers)),
        "labels": list(labels.numbers),
        "forms": [[f[0], "+".join(f[1]), f[2], f[3]] for f in forms.numbers],
    }
    (target / META).write_text(json.dumps(meta, ensure_ascii=False), encoding="utf-8")
    write_checksums(target)
    (target / MEASURED).write_text(json.dumps(measured(Tables(target)), ensure_ascii=False), encoding="utf-8")
    # what is made of the work of others keeps its notice wherever it is copied to
    shutil.copyfile(rules / "licences" / "compiled_NOTICE.md", target / "NOTICE.md")
    write_checksums(target)
    # whole or not at all: a reader sees the old folder or the new one
    shutil.rmtree(final, ignore_errors=True)
    target = target.rename(final)
    return {
        "words": len(words),
        "units": len(unit_list),
        "items": len(items.numbers),
        "forms": len(forms.numbers),
        "cut off": sum(len(unit.alternatives) == MOST_ALTERNATIVES for unit in unit_list),
        "bytes": sum(p.stat().st_size for p in target.iterdir()),
    }


def _parts(
    lexicon: str,
    analyses: list[tuple[Analysis, tuple[Unit, ...]]],
    numbered: dict[tuple[str, str], int],
) -> dict[str, np.ndarray]:
    """The columns that say of which known words a reading is made: the word's reading, and which units it covers."""
    start = [0]
    readings: list[int] = []
    spans: list[tuple[int, int]] = []
    for analysis, units in analyses:
        # which unit each segment is in; the first unit is the structure
        at = [n for n, unit in enumerate(units) for _ in unit.forms]
        for part in analysis.parts:
            number = numbered.get((part.word, part.pronunciation))
            if number is not None and part.last >= part.first:
                readings.append(number)
                spans.append((at[part.first], at[part.last]))
        start.append(len(readings))
    return {
        f"{lexicon}_reading_part": np.array(start, np.uint32),
        f"{lexicon}_part_reading": np.array(readings, np.uint32),
        f"{lexicon}_part_units": np.array(spans, np.uint8).reshape(-1),
    }


def _regular(analysed: Analysed, names: set[str]) -> Iterator[list[str]]:
    """Segmentations to predict from: words of letters that are no names and lie within the inventory."""
    for word, senses in analysed.items():
        if word.isalpha() and len(word) > 1 and word not in names:
            segments = senses[0].readings[0].analysis.segments
            if not any(s.irregular for s in segments):
                yield [s.key for s in segments]


def is_current(rules: Path, target: Path) -> bool:
    """Is the compiled form made of today's files, and whole?"""
    try:
        meta = json.loads((target / META).read_text(encoding="utf-8"))
        sums = read_checksums(target)
        whole = all(is_whole(sums, name, (target / name).read_bytes()) for name in (META, *sums))
    except (OSError, ValueError, TypeError, AttributeError):
        return False
    return whole and bool(meta.get("hash") == source_hash(rules))


def main(arguments: Iterable[str]) -> int:
    """Compile, or with `--check` say whether that is needed."""
    rules, target = rules_folder(), compiled_folder()
    current = is_current(rules, target)
    if "--check" in arguments:
        print("The compiled lexicon is current." if current else "The compiled lexicon is not of today's files.")
        return 0 if current else 1
    try:
        print(compile_lexicon(rules, target))
    except UserError as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
