"""The texts that benchmarks check: public-domain prose where it is at hand, and prose drawn at random from word frequencies.

Drawn prose is harder than real prose: it has about 120,000 distinct stretches in 10 MB, each word of wordfreq's list down to one
in 22 million as likely as it is frequent, with commas, quotation marks and dashes.
"""

from __future__ import annotations

import itertools
import random
import re
from collections.abc import Callable
from pathlib import Path

from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.sounds import BRITISH
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

STORIES = Path(__file__).parents[1] / "data" / "stories"
PROSE = 2_300_000
"""Bytes of `prose`."""
OTHERS = 4
"""One word in so many is another in a variant of the stories."""
RARE = (1.0, 2.7)
"""The Zipf frequencies between which a word counts as rare: from one in a hundred million words to one in two million."""
WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")


def prose(folder: Path | None = None) -> str:
    """Prose that does not repeat itself: all .txt files under a folder, as they are.

    Without a folder, the stories in tests/data/stories, and after them variants of these up to `PROSE` bytes: in each, one word in
    `OTHERS` at random is another one, drawn by its frequency. So sentences, quotation marks and heteronyms are those of stories,
    and there are about as many distinct stretches as in as much real prose (42,000; ten books for children: 38,000).
    """
    text = "\n\n".join(p.read_text(encoding="utf-8") for p in sorted((folder or STORIES).rglob("*.txt")))
    return text if folder else _filled(text, PROSE, _with_other_words)


def with_rare_words(text: str, seed: int = 11) -> str:
    """The text with every tenth word replaced by a rare one of the British lexicon, drawn at random; a capital stays.

    A word is a run of letters, with apostrophes inside it. Rare is a word of plain letters whose Zipf frequency lies within `RARE`.
    """
    rng = random.Random(seed)
    known = lexicon(BRITISH)
    frequent = zip(known.tables.words(), known.tables.zipf)
    rare = [w for w, zipf in frequent if RARE[0] <= zipf / 100 <= RARE[1] and w.isalpha() and known.has(w)]
    number = itertools.count(1)
    return WORD.sub(lambda word: word[0] if next(number) % 10 else _in_place_of(word, rng.choice(rare)), text)


def _with_other_words(text: str, seed: int) -> str:
    """The text with one word in `OTHERS` replaced by one drawn at random by its frequency, which is flattened so that the words of
    all variants together are as many as those of so many stories."""
    rng = random.Random(seed)
    rows = read_table(rules_folder() / "frequency" / "zipf.tsv")
    weights = list(itertools.accumulate(10 ** (0.85 * float(row["zipf"])) for row in rows))
    others = iter(rng.choices([row["word"] for row in rows], cum_weights=weights, k=len(text) // OTHERS))
    return WORD.sub(lambda word: _in_place_of(word, next(others)) if rng.random() < 1 / OTHERS else word[0], text)


def _in_place_of(word: re.Match[str], other: str) -> str:
    return other.capitalize() if word[0][0].isupper() else other


def of_size(text: str, size: int) -> str:
    """About `size` bytes, cut at the end of a line: the text, then the text with rare words, each time with another seed."""
    return _filled(text, size, with_rare_words)


def _filled(text: str, size: int, variant: Callable[[str, int], str]) -> str:
    """The text and its variants until there are about so many bytes, cut at the end of a line."""
    parts = [text]
    have = len(text.encode())
    while have < size:
        parts.append(variant(text, len(parts)))
        have += len(parts[-1].encode())
    whole = "\n\n".join(parts)
    end = whole.find("\n", len(whole) - (have - size)) if have > size else -1
    return whole if end < 0 else whole[: end + 1]


def in_texts(text: str, words: int) -> list[str]:
    """The text as texts of so many stretches each, in lines of twelve; what is left at the end is dropped."""
    stretches = text.split()
    texts = []
    for start in range(0, len(stretches) - words + 1, words):
        own = stretches[start : start + words]
        texts.append("".join(" ".join(own[at : at + 12]) + "\n" for at in range(0, words, 12)))
    return texts


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
