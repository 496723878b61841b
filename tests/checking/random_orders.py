"""Progressions drawn at random, for laws that must hold under any of them."""

from __future__ import annotations

import random

from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.store import tables
from decodecheck.phonics.inventory import inventory, together
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve

EVERYDAY = 13
SHAPES = ("CVC", "CCVC", "CVCC", "CCVCC", "CCCVC", "2 syllables", "3 syllables")


def common_words(rank: int = 420) -> list[str]:
    """Words of letters at least as common as `rank` hundredths on the Zipf scale."""
    known = tables()
    return [w for n, w in enumerate(known.words()) if known.zipf[n] >= rank and w.isalpha()]


def random_progression(rng: random.Random, accent: str | None = None) -> str:
    """The text of a progression; some of its lines may be mistakes (something taught twice in its accent)."""
    steps: list[list[str]] = [[] for _ in range(rng.randint(2, 9))]

    def put(line: str) -> None:
        rng.choice(steps).append(line)

    for grapheme, rows in inventory().by_grapheme.items():
        usual = min(row.cost for row in rows) <= EVERYDAY
        if grapheme == "'" or rng.random() > (0.85 if usual else 0.25):
            continue
        place = rng.choice((", at word end", ", at word start")) if rng.random() < 0.06 else ""
        if rng.random() < 0.5 and not any(row.bare == "ask" for row in rows):
            put(f"teach {grapheme}{place}")
        else:
            for row in rows:
                if rng.random() < (0.8 if row.cost <= EVERYDAY else 0.3) and row.place != "ending":
                    put(f"teach {grapheme} as in {row.key_word}{place}")
    for ending in ENDINGS:
        if rng.random() < 0.45:
            put(f"teach {ending}")
    for name in together():
        if rng.random() < 0.25:
            put(f"together {name}")
    for shape in SHAPES:
        if rng.random() < 0.15:
            put(f"structure {shape}")
    for run in ("st", "nd", "nt", "bl", "str", "mp"):
        if rng.random() < 0.08:
            put(f"teach {run}")
    for word in rng.sample(common_words(), rng.randint(0, 40)):
        put(f"tricky {word}")
    for letter in "ABDNST":
        if rng.random() < 0.05:
            put(f"teach {letter}")
    lines = [f"accent {accent or rng.choice(ACCENTS)}"]
    for number, step in enumerate(steps, 1):
        rng.shuffle(step)
        lines += [f"step {number}", *(f"  {line}" for line in step)]
    if rng.random() < 0.2:
        lines.append(f"capitals from step {rng.randint(1, len(steps))}")
    if rng.random() < 0.2:
        lines.append(f"doubled letters from step {rng.randint(1, len(steps))}")
    if rng.random() < 0.15:
        lines.append("weakened vowels exact")
    return "\n".join(lines) + "\n"


def random_order(seed: int, accent: str | None = None) -> tuple[TeachingOrder, str]:
    """A progression without mistakes: one drawn at random, less the lines that are mistakes; and its text."""
    text = random_progression(random.Random(seed), accent)
    while True:
        order, problems = resolve(text, "random.progression")
        wrong = {p.line for p in problems if not p.note}
        if not wrong:
            return order, text
        text = "\n".join(line for n, line in enumerate(text.split("\n"), 1) if n not in wrong)
