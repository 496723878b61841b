"""The texts that benchmarks check: public-domain prose where it is at hand, and prose drawn at random from word frequencies.

Drawn prose is harder than real prose: it has about 120,000 distinct stretches in 10 MB, each word of wordfreq's list down to one
in 22 million as likely as it is frequent, with commas, quotation marks and dashes.
"""

from __future__ import annotations

import itertools
import random
from pathlib import Path

from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

STORIES = Path(__file__).parents[1] / "data" / "stories"


def drawn(size: int, seed: int = 7) -> str:
    """At least `size` bytes: one part in ten from the stories in tests/data/stories, the rest drawn at random."""
    rng = random.Random(seed)
    rows = read_table(rules_folder() / "frequency" / "zipf.tsv")
    words = [row["word"] for row in rows]
    weights = list(itertools.accumulate(10 ** float(row["zipf"]) for row in rows))
    stories = [p.read_text(encoding="utf-8") for p in sorted(STORIES.glob("*.txt"))]
    out: list[str] = []
    have = 0
    while have < size:
        if rng.random() < 0.1:
            story = rng.choice(stories)
            start = rng.randrange(max(1, len(story) - 20_000))
            piece = story[start : start + 20_000] + "\n\n"
        else:
            piece = "\n\n".join(_paragraph(rng, words, weights) for _ in range(40)) + "\n\n"
        out.append(piece)
        have += len(piece.encode())
    return "".join(out)


def _paragraph(rng: random.Random, words: list[str], weights: list[float]) -> str:
    sentences = []
    for _ in range(rng.randint(2, 6)):
        chosen = rng.choices(words, cum_weights=weights, k=rng.randint(5, 18))
        chosen[0] = chosen[0].capitalize()
        if rng.random() < 0.3:
            chosen[rng.randrange(len(chosen))] += ","
        sentence = " ".join(chosen) + rng.choice("....!?")
        if rng.random() < 0.25:
            sentence = f"“{sentence}”"
        if rng.random() < 0.05:
            sentence = sentence.replace(" ", "—", 1)
        sentences.append(sentence)
    return " ".join(sentences)
