"""Predict an unlisted word from its spelling alone: an n-gram model over correspondences, searched with a beam.

The model is trained on the lexicon's own segmentations when it is compiled. What it predicts is never certain, and is always
marked as predicted.
"""

from __future__ import annotations

import struct
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import log
from pathlib import Path

from decodecheck.lexicon.analysis import Analysis
from decodecheck.lexicon.letters import place_graphemes
from decodecheck.lexicon.store import Reading, read_whole
from decodecheck.lexicon.units import SHORT, build_units
from decodecheck.phonics.align import VOWEL_LETTERS, Segment
from decodecheck.phonics.sounds import BRITISH, has_vowel, sound_codes

ORDER = 5
"""Correspondences in an n-gram."""
BEAM = 12
START, END = 0, 1
COST_UNIT = 14.0
"""Costs (negative natural logarithms of probabilities) are stored in whole parts of this."""
LONGEST = 30
DISCOUNT = 0.8
FEWEST = 8
"""In so many words a correspondence stands that is expected of an unlisted one."""


@dataclass(frozen=True, slots=True)
class _Trail:
    """The symbols of a path, from its last one back."""

    before: _Trail | None
    symbol: int


@dataclass
class Model:
    """An n-gram model over symbols ("ea|DRESS"; 0 is the start of a word, 1 its end).

    `grams[n]` maps a context of n symbols to the costs of what may follow; `backoff[n]` maps it to the cost of falling back on
    the context without its first symbol.
    """

    symbols: list[str]
    grams: list[dict[tuple[int, ...], dict[int, float]]]
    backoff: list[dict[tuple[int, ...], float]]

    def __post_init__(self) -> None:
        self.single: dict[str, list[int]] = {}
        self.split: dict[str, list[int]] = {}
        for number, symbol in enumerate(self.symbols):
            grapheme = symbol.partition("|")[0]
            if number > END:
                (self.split if "-" in grapheme else self.single).setdefault(grapheme, []).append(number)
        self.longest = max(map(len, self.single))
        self._costs: dict[tuple[int, ...], dict[int, float]] = {}

    def cost(self, context: tuple[int, ...], symbol: int) -> float:
        """The cost of a symbol after a context."""
        total = 0.0
        while True:
            found = self.grams[len(context)].get(context)
            if found is not None and symbol in found:
                return total + found[symbol]
            if not context:
                return total + 20.0
            total += self.backoff[len(context)].get(context, 0.0)
            context = context[1:]

    def best(self, word: str) -> tuple[list[str], float] | None:
        """The likeliest symbols of a lower-case word and their cost; None where the letters allow none."""
        n = len(word)
        if not 0 < n <= LONGEST:
            return None
        keep = ORDER - 1
        # per letter position: history -> (cost, symbols as a linked list)
        reached: list[dict[tuple[int, ...], tuple[float, _Trail | None]]] = [{} for _ in range(n + 1)]
        reached[0][(START,) * keep] = (0.0, None)
        for i in range(n):
            if not reached[i]:
                continue
            states = sorted(reached[i].items(), key=lambda s: s[1][0])[:BEAM]
            options = self._options(word, i)
            for history, (cost, path) in states:
                for end, symbols in options:
                    total, past, trail = cost, history, path
                    for symbol in symbols:
                        total += self.cost(past, symbol)
                        past = (*past[1:], symbol)
                        trail = _Trail(trail, symbol)
                    old = reached[end].get(past)
                    if old is None or total < old[0]:
                        reached[end][past] = (total, trail)
        best: tuple[float, _Trail | None] | None = None
        for history, (cost, path) in reached[n].items():
            total = cost + self.cost(history, END)
            if best is None or total < best[0]:
                best = (total, path)
        if best is None:
            return None
        result: list[str] = []
        node = best[1]
        while node is not None:
            result.append(self.symbols[node.symbol])
            node = node.before
        return result[::-1], best[0]

    def _options(self, word: str, i: int) -> list[tuple[int, tuple[int, ...]]]:
        """What may be read from letter i on: where it ends, and its symbols (two for a split digraph with what it encloses)."""
        found: list[tuple[int, tuple[int, ...]]] = []
        for length in range(1, min(self.longest, len(word) - i) + 1):
            for symbol in self.single.get(word[i : i + length], ()):
                found.append((i + length, (symbol,)))
        for width in (1, 2):
            last = i + 1 + width
            if last < len(word) and word[last] == "e" and word[last + 1 : last + 2] not in VOWEL_LETTERS:
                outer = self.split.get(f"{word[i]}-e", ())
                inner = self.single.get(word[i + 1 : last], ()) if outer else ()
                for one in outer:
                    for other in inner:
                        if not has_vowel(_sound(self.symbols[other])):
                            found.append((last + 1, (one, other)))
        return found


def _sound(symbol: str) -> tuple[str, ...]:
    codes = symbol.partition("|")[2]
    return tuple(codes.split("+")) if codes else ()


def predicted_reading(model: Model, word: str, lexicon: str) -> Reading | None:
    """The likeliest reading of a plain lower-case word, origin `predicted`; none where that has no vowel: no word is without."""
    found = model.best(word)
    if found is None:
        return None
    graphemes = [s.partition("|")[0] for s in found[0]]
    sounds = [_sound(s) for s in found[0]]
    vowels = sum(map(has_vowel, sounds))
    if not vowels:
        return None
    many = vowels > 1
    segments = []
    for k, (grapheme, sound, letters) in enumerate(zip(graphemes, sounds, place_graphemes(graphemes))):
        after = sounds[k + 1] if k + 1 < len(sounds) else ()
        vowel_next = bool(after) and sound_codes()[after[0]].vowel
        linked = lexicon == BRITISH and bool(sound) and sound_codes()[sound[-1]].links and vowel_next
        weak = many and grapheme in SHORT and sound in (("SCHWA",), ())
        segments.append(Segment(grapheme, sound, linked, False, letters, weak))
    return Reading(tuple(segments), build_units(Analysis(tuple(segments), 0)), "predicted")


def train(sequences: Iterable[Sequence[str]]) -> Model:
    """A model from segmented words, with interpolated Kneser-Ney smoothing (Kneser and Ney 1995; Chen and Goodman 1999).

    Of the two longest kinds of n-grams only those that occur twice are kept, for the sake of size (a point of accuracy). Words with a
    correspondence that hardly any other has (the f of of) are no model for new ones.
    """
    sequences = list(sequences)
    words_with = Counter(symbol for sequence in sequences for symbol in set(sequence))
    sequences = [sequence for sequence in sequences if all(words_with[symbol] >= FEWEST for symbol in sequence)]
    numbers: dict[str, int] = {"<start>": START, "<end>": END}
    counts: list[dict[tuple[int, ...], dict[int, int]]] = [{} for _ in range(ORDER)]
    for sequence in sequences:
        ids = [START] * (ORDER - 1) + [numbers.setdefault(s, len(numbers)) for s in sequence] + [END]
        for at in range(ORDER - 1, len(ids)):
            following = counts[-1].setdefault(tuple(ids[at - ORDER + 1 : at]), {})
            following[ids[at]] = following.get(ids[at], 0) + 1
    # shorter n-grams count in how many longer ones they occur
    for size in range(ORDER - 2, -1, -1):
        for context, longer in counts[size + 1].items():
            following = counts[size].setdefault(context[1:], {})
            for symbol in longer:
                following[symbol] = following.get(symbol, 0) + 1
    grams: list[dict[tuple[int, ...], dict[int, float]]] = [{} for _ in range(ORDER)]
    backoff: list[dict[tuple[int, ...], float]] = [{} for _ in range(ORDER)]
    shorter: dict[tuple[int, ...], dict[int, float]] = {}
    for size in range(ORDER):
        chances: dict[tuple[int, ...], dict[int, float]] = {}
        for context, following in counts[size].items():
            total = sum(following.values())
            share = DISCOUNT * len(following) / total
            lower = shorter[context[1:]] if size else dict.fromkeys(following, 1.0 / len(numbers))
            row = chances[context] = {s: (c - DISCOUNT) / total + share * lower[s] for s, c in following.items()}
            kept = {s: -log(p) for s, p in row.items() if size < ORDER - 2 or following[s] > 1}
            if kept:
                grams[size][context] = kept
                backoff[size][context] = -log(share)
        shorter = chances
    return Model(list(numbers), grams, backoff)


def save(model: Model, path: Path) -> None:
    """Write a model: symbols as text, then per order the contexts with their backoff and their followers, costs in one byte."""
    out = bytearray()
    names = "\n".join(model.symbols).encode()
    out += struct.pack("<I", len(names)) + names
    for size in range(ORDER):
        contexts = sorted(model.grams[size])
        followers = bytearray()
        costs = bytearray()
        heads = bytearray()
        lengths = bytearray()
        fall = bytearray()
        for context in contexts:
            heads += struct.pack(f"<{size}H", *context)
            fall.append(_byte(model.backoff[size][context]))
            row = sorted(model.grams[size][context].items())
            lengths += struct.pack("<H", len(row))
            followers += struct.pack(f"<{len(row)}H", *(s for s, _ in row))
            costs += bytes(_byte(c) for _, c in row)
        for block in (heads, fall, lengths, followers, costs):
            out += struct.pack("<I", len(block)) + block
    path.write_bytes(bytes(out))


def _byte(cost: float) -> int:
    return min(255, max(0, round(cost * COST_UNIT)))


def load(path: Path) -> Model:
    """Read a model that `save` wrote into a compiled lexicon. Raises UserError where it is not as it was written."""
    data = read_whole(path)
    at = 0

    def block() -> bytes:
        nonlocal at
        (size,) = struct.unpack_from("<I", data, at)
        at += 4 + size
        return data[at - size : at]

    symbols = block().decode().split("\n")
    grams: list[dict[tuple[int, ...], dict[int, float]]] = []
    backoff: list[dict[tuple[int, ...], float]] = []
    table = [i / COST_UNIT for i in range(256)]
    for size in range(ORDER):
        heads, fall, lengths, followers, costs = (block() for _ in range(5))
        contexts = list(struct.iter_unpack(f"<{size}H", heads)) if size else [()]
        symbols_after = struct.unpack(f"<{len(followers) // 2}H", followers)
        rows: dict[tuple[int, ...], dict[int, float]] = {}
        start = 0
        for context, (length,) in zip(contexts, struct.iter_unpack("<H", lengths)):
            end = start + length
            rows[context] = dict(zip(symbols_after[start:end], (table[c] for c in costs[start:end])))
            start = end
        grams.append(rows)
        backoff.append({context: table[c] for context, c in zip(contexts, fall)})
    return Model(symbols, grams, backoff)
