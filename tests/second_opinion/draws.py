"""Progressions and forms drawn at random for the second opinion."""

from __future__ import annotations

import random
import re
from collections.abc import Collection
from functools import cache

from decodecheck.lexicon.store import tables
from decodecheck.phonics.inventory import inventory
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from tests.checking.random_orders import random_progression
from tests.second_opinion.sounds import rows
from tests.second_opinion.words import readings

NAMES = ("Tilda", "Omar", "Mr Pike", "Nettle")
PINNED = ("word Zog = z + o + g", "word Kelm = k + e + l + m", "word Bip = b + i + p")
SOUNDS = ("brrr", "moo", "psst")
NEED = 250
"""How common a word must be, in hundredths on the Zipf scale."""


@cache
def common() -> tuple[str, ...]:
    """All words that are common enough and not names only."""
    known = tables()
    return tuple(w for n, w in enumerate(known.words()) if known.zipf[n] >= NEED and not known.is_name[n])


def drawn(seed: int) -> tuple[TeachingOrder, str]:
    """A progression without mistakes, and its text."""
    rng = random.Random(seed)
    text = richer(rng, random_progression(rng))
    extra = [
        *(line for line in PINNED if rng.random() < 0.2),
        *(f"allow names {name}" for name in NAMES if rng.random() < 0.2),
        *(f"allow sounds {sound}" for sound in SOUNDS if rng.random() < 0.2),
    ]
    if rng.random() < 0.1 and "weakened vowels exact" not in text:
        extra.append("weakened vowels exact")
    text = well_named(text) + "".join(line + "\n" for line in extra)
    while True:
        order, problems = resolve(text, "drawn.progression")
        wrong = {p.line for p in problems if not p.note}
        if not wrong:
            return order, text
        text = "\n".join(line for n, line in enumerate(text.split("\n"), 1) if n not in wrong)


def richer(rng: random.Random, text: str) -> str:
    """A progression with most of the everyday correspondences that it lacks, so that many words can be read at last."""
    lines = text.split("\n")
    heads = [line for line in lines if line.startswith("step")]
    if rng.random() < 0.3:
        return text
    for row in inventory().all:
        if row.cost <= 13 and row.place != "ending" and row.grapheme != "'" and rng.random() < 0.8:
            lines.insert(lines.index(rng.choice(heads)) + 1, f"  teach {row.grapheme} as in {row.key_word}")
    return "\n".join(lines)


def well_named(text: str) -> str:
    """A progression without the lines that name a sound by a word which has another sound in the accent, or several;
    test_key_words.py has those."""
    accent = text.split()[1]
    kept = []
    for line in text.split("\n"):
        named = re.match(r"  teach (\S+) as in (\S+?)(?:,|$)", line)
        if named:
            grapheme, word = named.groups()
            wanted = {sound for sound, key, _ in rows(accent)[grapheme] if key == word}
            seen = {s.key[1] for r in readings(accent, word.lower()) for s in r.segments if s.key[0] == grapheme}
            if len(wanted) > 1 or not wanted & seen:
                continue
        kept.append(line)
    return "\n".join(kept)


def forms(rng: random.Random, number: int, pinned: Collection[str] = ()) -> list[str]:
    """Words as they stand in texts: most as they are, some with capitals, an ending or a hyphen."""
    found = []
    for _ in range(number):
        word, kind = rng.choice(common()), rng.random()
        if kind < 0.08:
            word = word.capitalize()
        elif kind < 0.11:
            word = word.upper()
        elif kind < 0.15 and "'" not in word and not word.endswith("s"):
            word += "'s"
        elif kind < 0.18 and "'" not in word:
            word = f"{word}-{rng.choice(common())}"
        elif kind < 0.19 and pinned:
            base = rng.choice(sorted(pinned))
            word = rng.choice((base, base.capitalize(), base.upper(), f"{base.capitalize()}'s", f"{base}s"))
        elif kind < 0.20:
            word = rng.choice((*NAMES[:2], "Pike", "Tilda's", "OMAR", *SOUNDS, "brrrrr"))
        found.append(word)
    return found
