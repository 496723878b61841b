"""Stretches of a word that may be read otherwise than grapheme by grapheme: combinations, and other accepted divisions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import product

from decodecheck.lexicon.items import WEAKENED, Item
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import also_accepted, divided, inventory, together
from decodecheck.phonics.sounds import ACCENTS, Sound, project

Alternative = tuple[Item, ...]
"""Items that have to be taught all."""
Match = tuple[int, int, list[Alternative]]
"""A stretch (from, to), and other ways to read it."""

_L_VOWELS = {"al": ("a", "TRAP"), "el": ("e", "DRESS"), "il": ("i", "KIT"), "ol": ("o", "LOT"), "ul": ("u", "STRUT"), "yl": ("y", "KIT")}  # fmt: skip
"""A weakened vowel with l in one grapheme (metal), and the short sound of its letter."""


@cache
def alike(grapheme: str, one: Sound, other: Sound) -> bool:
    """Are two sounds of a grapheme the same in at least one accent? A progression then says in its own which of them it means."""
    return any(project(grapheme, one, False, accent) == project(grapheme, other, False, accent) for accent in ACCENTS)


@cache
def _combinations() -> dict[str, list[tuple[str, tuple[tuple[str, Sound], ...]]]]:
    """Combinations by their first grapheme: name, and graphemes with sounds."""
    found: dict[str, list[tuple[str, tuple[tuple[str, Sound], ...]]]] = {}
    for name, combination in together().items():
        for parts in combination.parts:
            split = tuple(map(divided, parts))
            found.setdefault(split[0][0], []).append((name, split))
    return found


@cache
def _others() -> dict[str, list[tuple[tuple[str, ...], tuple[str, ...]]]]:
    """Other accepted divisions by the first correspondence they replace."""
    found: dict[str, list[tuple[tuple[str, ...], tuple[str, ...]]]] = {}
    for canonical, other in also_accepted():
        found.setdefault(canonical[0], []).append((canonical, other))
    return found


def matches(segments: Sequence[Segment], places: Sequence[str], many: bool) -> Iterator[Match]:
    """Every stretch that may be read otherwise. `many`: the word has several syllables, so a vowel may be weakened."""
    keys = [s.key for s in segments]
    for i, segment in enumerate(segments):
        for name, parts in _combinations().get(segment.grapheme, ()):
            window = segments[i : i + len(parts)]
            if len(window) == len(parts) and all(
                s.grapheme == g and not s.irregular and alike(g, s.sound, sound) for s, (g, sound) in zip(window, parts)
            ):
                yield i, i + len(parts) - 1, [(Item.together(name, [s.sound for s in window]),)]
        for canonical, other in _others().get(segment.key, ()):
            last = i + len(canonical) - 1
            if tuple(keys[i : last + 1]) == canonical:
                yield i, last, list(_divided(other, i, last, places))
        if many and segment.weak and segment.grapheme in _L_VOWELS and segment.sound == ("SCHWA", "l"):
            vowel, short = _L_VOWELS[segment.grapheme]
            place = places[i]
            first = place[0] if "s" in place else "m"
            guards = (WEAKENED, Item.unnamed(segment.grapheme, segment.sound))
            yield i, i, [(Item.gpc(vowel, (short,), first), Item.gpc("l", ("l",), place[-1]), *guards)]


def _divided(other: tuple[str, ...], first: int, last: int, places: Sequence[str]) -> Iterator[Alternative]:
    start = "s" if "s" in places[first] else "m"
    end = "e" if "e" in places[last] else "m"
    options = []
    parts = [divided(key) for key in other]
    for k, (grapheme, sound) in enumerate(parts):
        place = places[first][-1] if len(other) == 1 else start if k == 0 else end if k == len(other) - 1 else "m"
        options.append([Item.gpc(grapheme, sound, place)])
        if k and parts[k - 1][0].endswith("-e") and inventory().get(f"{grapheme}e", sound):
            # love as o-e and ve: the e is that of both
            options[-1].append(Item.gpc(f"{grapheme}e", sound, place))
    yield from product(*options)


def ways(at: int, last: int, group: Sequence[Match], choices: Sequence[Sequence[Alternative]]) -> Iterator[Alternative]:
    """Every way through a stretch: segment by segment, or by what matches in it."""
    if at > last:
        yield ()
        return
    for choice in choices[at]:
        for rest in ways(at + 1, last, group, choices):
            yield (*choice, *rest)
    for first, end, alternatives in group:
        if first == at:
            for items in alternatives:
                for rest in ways(end + 1, last, group, choices):
                    yield (*items, *rest)
