"""A list of words: as text, as JSON (schema 1), as CSV."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from decodecheck.errors import count
from decodecheck.phonics.sounds import project
from decodecheck.printing import as_json, columns
from decodecheck.reports.rows import as_csv
from decodecheck.wordlists.described import FoundWord
from decodecheck.wordlists.find import Found
from decodecheck.wordlists.left_out import ALWAYS, KINDS
from decodecheck.wordlists.shown import divided, shown_segments, structure
from decodecheck.wordlists.spelling_choice import Choice
from decodecheck.wordlists.wanted import ALPHABET, COMMON, EASY, LENGTH

SCHEMA = 1
FORMATS = ("text", "json", "csv")
WIDTH = 100
MOST_ALIKE = 3
HEADER = ("word", "graphemes", "graph.", "sounds", "structure", "step", "effort", "watch")
NUMERIC = (2, 3, 5, 6)
ORDERS = {
    EASY: "from easy to hard to spell",
    COMMON: "the commonest first",
    LENGTH: "the shortest first",
    ALPHABET: "by the alphabet",
}


def render(found: Found, form: str) -> str:
    """A list in one of FORMATS, with a line end."""
    return {"text": _text, "json": _json, "csv": _csv}[form](found)


def watch(word: FoundWord) -> list[str]:
    """What to watch in a word when it is dictated, each in a few words."""
    found = []
    if word.sounds_like:
        found.append("sounds like " + ", ".join(word.sounds_like[:MOST_ALIKE]))
    found += [_hard_spot(spot) for spot in word.effort.hard_spots]
    if word.unread_in:
        found.append("not yet in " + ", ".join(word.unread_in))
    if word.kind:
        found.append(KINDS[word.kind][1])
    return found


def _hard_spot(spot: Choice) -> str:
    return f"{spot.grapheme} ({spot.usual} is likelier here)"


# -- text -----------------------------------------------------------------------------------------------------------------


def _text(found: Found) -> str:
    order = found.order
    shown = count(len(found.words), "word")
    fitting = f" of {found.fitting:,} that fit" if found.fitting > len(found.words) else ""
    group = f" ({order.variant})" if order.variant else ""
    lines = textwrap.wrap(
        f"{order.name}{group}, step {found.step}: {shown}{fitting}, {ORDERS[found.wanted.order]}", WIDTH
    )
    lines += ["", *_table([_cells(word) for word in found.words]), ""]
    if any(word.sounds_like for word in found.words):
        lines.append("A word that sounds like another needs a sentence when it is dictated.")
    if found.left_out:
        kinds = "; ".join(f"{number:,} {KINDS[kind][0]}{_switch(kind)}" for kind, number in found.left_out)
        lines += textwrap.wrap(f"Left out: {kinds}.", WIDTH, break_on_hyphens=False)
    return "\n".join(line.rstrip() for line in lines).rstrip() + "\n"


def _switch(kind: str) -> str:
    return "" if kind in ALWAYS else f" (--also {kind})"


def _cells(word: FoundWord) -> tuple[str, ...]:
    return (
        word.word,
        divided(word.reading),
        str(word.graphemes),
        str(word.sounds),
        structure(word.reading),
        str(word.first_step),
        f"{word.effort.total:.1f}",
        "; ".join(watch(word)),
    )


def _table(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    """Rows under a header; the last column takes several lines where it has to. (rich, which draws other tables, is slow to load.)"""
    widths = [max(columns(row[i]) for row in (HEADER, *rows)) for i in range(len(HEADER) - 1)]
    room = max(30, WIDTH - sum(widths) - 2 * len(widths))
    for row in (HEADER, *rows):
        fixed = [_padded(cell, widths[i], i in NUMERIC) for i, cell in enumerate(row[:-1])]
        wrapped = textwrap.wrap(row[-1], room, break_on_hyphens=False) or [""]
        lead = "  ".join(fixed)
        yield f"{lead}  {wrapped[0]}"
        for line in wrapped[1:]:
            yield " " * columns(lead) + f"  {line}"


def _padded(cell: str, width: int, right: bool) -> str:
    room = " " * (width - columns(cell))
    return room + cell if right else cell + room


# -- for programs ---------------------------------------------------------------------------------------------------------


def document(found: Found) -> dict[str, Any]:
    """A list as JSON (schema 1)."""
    return {
        "schema": SCHEMA,
        "progression": found.order.name,
        "accent": found.order.accent,
        "step": found.step,
        "order": found.wanted.order,
        "fitting": found.fitting,
        "left_out": dict(found.left_out),
        "words": [_word(word, found.order.accent) for word in found.words],
    }


def _word(word: FoundWord, accent: str) -> dict[str, Any]:
    segments = shown_segments(word.reading)
    return {
        "word": word.word,
        "segmentation": [s.grapheme for s in segments],
        "sounds": [list(project(s.grapheme, s.sound, s.linked, accent)) for s in segments],
        "grapheme_count": word.graphemes,
        "sound_count": word.sounds,
        "syllables": word.syllables,
        "structure": structure(word.reading),
        "first_step": word.first_step,
        "zipf": word.common,
        "child_zipf": word.likely,
        "effort": {name: round(value, 3) for name, value in {"total": word.effort.total, **word.effort.parts}.items()},
        "choices": [
            {"grapheme": c.grapheme, "likelihood": round(c.likelihood, 4), "usual": c.usual}
            for c in word.effort.choices
        ],
        "hard_spots": [c.grapheme for c in word.effort.hard_spots],
        "sounds_like": list(word.sounds_like),
        "not_yet_in": list(word.unread_in),
        "kind": word.kind or None,
    }


def _json(found: Found) -> str:
    return as_json(document(found)) + "\n"


def _csv(found: Found) -> str:
    parts = list(found.words[0].effort.parts) if found.words else []
    head = [
        "word",
        "segmentation",
        "graphemes",
        "sounds",
        "syllables",
        "structure",
        "step",
        "zipf",
        "child_zipf",
        "effort",
    ]
    rows = [
        [word.word, divided(word.reading), word.graphemes, word.sounds, word.syllables, structure(word.reading)]
        + [word.first_step, f"{word.common:.2f}", f"{word.likely:.2f}", f"{word.effort.total:.3f}"]
        + [f"{value:.3f}" for value in word.effort.parts.values()]
        + [" ".join(word.sounds_like), "; ".join(watch(word))]
        for word in found.words
    ]
    return as_csv([*head, *(f"effort_{part}" for part in parts), "sounds_like", "watch"], rows)
