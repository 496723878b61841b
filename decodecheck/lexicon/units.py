"""Units: what a reading asks a child to have been taught.

A unit is a stretch of a word with its alternatives; each alternative is a set of items; a child can read the stretch if
every item of one alternative has been taught. Items are named by short strings:

    gpc|ea|DRESS|m      a correspondence, with its place: s at the start of a word, m inside, e at the end
    together|tion       a combination taught as one item         ending|-ed      an ending
    shape|CCVC          a word structure                         syllables|2     that many syllables
    adjacent|st         adjacent consonants
and guards, which a progression opens or shuts:
    single|ff           ff comes with f                          weak            a weakened vowel counts as its short sound
    letters|-s          an ending is read by its letters         plain-n         n before k comes with n
    always, irregular   nothing to teach; never taught
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import product

from decodecheck.lexicon.analysis import Analysis, EndingSpan
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import also_accepted, together
from decodecheck.phonics.sounds import Sound, has_vowel
from decodecheck.phonics.structure import adjacent_consonants, pattern, syllables

SHORT = {"a": "TRAP", "e": "DRESS", "i": "KIT", "o": "LOT", "u": "STRUT", "y": "KIT"}
"""A vowel letter's own short sound (common practice in the teaching of reading, no source)."""
WEAK = frozenset(("SCHWA", "KIT", "FOOT", "HAPPY"))
MOST_ALTERNATIVES = 48

Form = tuple[str, Sound, bool, bool]
"""A segment without its letters: grapheme, sound, linked, irregular."""
Alternative = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unit:
    """A stretch of a word: the segments it covers (none for the word's structure) and its alternatives."""

    forms: tuple[Form, ...]
    alternatives: tuple[Alternative, ...]


def form(segment: Segment) -> Form:
    """The segment without its letters."""
    return (segment.grapheme, segment.sound, segment.linked, segment.irregular)


def doubled_single(grapheme: str) -> str:
    """The single letter of a doubled consonant, else nothing: ff gives f."""
    return grapheme[0] if len(grapheme) == 2 and grapheme[0] == grapheme[1] and grapheme[0] not in "aeiou" else ""


def build_units(analysis: Analysis) -> tuple[Unit, ...]:
    """The units of a word: its structure first, then its letters in order."""
    segments = analysis.segments
    places = _places(analysis)
    many = syllables(segments) > 1
    choices = [
        _choices(segments, i, places[i], many)
        + (_choices((analysis.of_base[i],), 0, places[i], many) if i in analysis.of_base else [])
        for i in range(len(segments))
    ]
    spans: list[tuple[int, int, list[Alternative]]] = []
    taken: set[int] = set()
    for ending in analysis.endings:
        covered = range(ending.first, ending.last + 1)
        if not covered or taken & set(covered):
            continue
        taken |= set(covered)
        spans.append((ending.first, ending.last, _ending_alternatives(ending, segments, choices)))
    matches = [m for m in _matches(segments, places) if not taken & set(range(m[0], m[1] + 1))]
    spans += _clusters(matches, choices)
    units: list[Unit] = [Unit((), (shape_items(analysis),))]
    starts = {first: (last, alternatives) for first, last, alternatives in spans}
    i = 0
    while i < len(segments):
        last, alternatives = starts.get(i, (i, choices[i]))
        forms = tuple(form(s) for s in segments[i : last + 1])
        units.append(Unit(forms, tuple(dict.fromkeys(tuple(sorted(set(a))) for a in alternatives))[:MOST_ALTERNATIVES]))
        i = last + 1
    return tuple(units)


def shape_items(analysis: Analysis) -> Alternative:
    """The word's structure as items: pattern, syllables, adjacent consonants. Endings without a vowel do not count."""
    uncounted = {
        i
        for e in analysis.endings
        for i in range(e.first, e.last + 1)
        if e.ending in ("-s", "-es", "'s", "'d", "'ll", "'ve", "'re", "'m")
        and not has_vowel(analysis.segments[i].sound)
    }
    counted = [s for i, s in enumerate(analysis.segments) if i not in uncounted]
    runs = adjacent_consonants(counted, analysis.joins)
    return (f"shape|{pattern(counted)}", f"syllables|{syllables(counted)}", *(f"adjacent|{run}" for run in runs))


def _places(analysis: Analysis) -> list[str]:
    n = len(analysis.segments)
    ends = {n - 1} | {e.first - 1 for e in analysis.endings}
    for i in range(n - 1):
        if analysis.segments[i + 1].letters[0] in analysis.joins:
            ends.add(i)
    endings = {e.first for e in analysis.endings}
    starts = {0} | {i for i in range(n) if analysis.segments[i].letters[0] in analysis.joins and i not in endings}
    places = []
    for i in range(n):
        places.append(("s" if i in starts else "") + ("e" if i in ends else "") or "m")
    return places


def _gpc(key: str, place: str) -> list[Alternative]:
    return [(f"gpc|{key}|{p}",) for p in place]


def _choices(segments: tuple[Segment, ...], i: int, place: str, many: bool) -> list[Alternative]:
    """All ways to read one segment."""
    segment = segments[i]
    if segment.grapheme == "'":
        return [("always",)]
    if segment.irregular:
        return [("irregular",)]
    result = _gpc(segment.key, place)
    single = doubled_single(segment.grapheme)
    if single:
        result += [(*a, f"single|{segment.grapheme}") for a in _gpc(f"{single}|{'+'.join(segment.sound)}", place)]
    if segment.sound == ("ng",) and segment.grapheme == "n":
        after = segments[i + 1].grapheme[0] if i + 1 < len(segments) else ""
        plain = [] if after == "g" else ["plain-n"]
        result += [(*a, *plain) for a in _gpc("n|n", place)]
    if many and segment.weak and segment.grapheme in SHORT and _weakened(segment, place):
        result += [(*a, "weak") for a in _gpc(f"{segment.grapheme}|{SHORT[segment.grapheme]}", place)]
    return result


def _weakened(segment: Segment, place: str) -> bool:
    if not segment.sound:
        return True
    if segment.sound == ("HAPPY",):
        return place == "m"
    return segment.sound[0] in WEAK and len(segment.sound) == 1 and segment.sound != (SHORT[segment.grapheme],)


def _ending_alternatives(
    ending: EndingSpan, segments: tuple[Segment, ...], choices: list[list[Alternative]]
) -> list[Alternative]:
    covered = range(ending.first, ending.last + 1)
    name = f"letters|{ending.ending}"
    result: list[Alternative] = [(f"ending|{ending.ending}",)]
    options = [list(choices[i]) for i in covered]
    if ending.ending in ("-s", "-es", "'s"):
        last = segments[ending.last]
        if last.key == "s|z":
            options[-1] += [("gpc|s|s|e",)]
        elif last.grapheme == "es":
            options[-1] += [("gpc|e|DRESS|m", "gpc|s|s|e")]
    if ending.ending == "-ed" and has_vowel(segments[ending.last].sound):
        options[-1] += [("gpc|e|DRESS|m", "gpc|d|d|e")]
    for combination in product(*options):
        result.append((*(item for part in combination for item in part), name))
    return result


@cache
def _sequences() -> dict[str, list[tuple[tuple[str, ...], str, tuple[str, ...]]]]:
    """What may be read otherwise, by its first correspondence: (sequence, name of a combination, other sequence)."""
    found: dict[str, list[tuple[tuple[str, ...], str, tuple[str, ...]]]] = {}
    for name, combination in together().items():
        for parts in combination.parts:
            found.setdefault(parts[0], []).append((parts, name, ()))
    for canonical, other in also_accepted():
        found.setdefault(canonical[0], []).append((canonical, "", other))
    return found


def _matches(segments: tuple[Segment, ...], places: list[str]) -> Iterator[tuple[int, int, Alternative]]:
    """Stretches that may be read otherwise than grapheme by grapheme: (first, last, items of the other way)."""
    keys = [s.key for s in segments]
    sequences = _sequences()
    for i, key in enumerate(keys):
        for parts, name, other in sequences.get(key, ()):
            last = i + len(parts) - 1
            if tuple(keys[i : last + 1]) != parts:
                continue
            if name:
                yield i, last, (f"together|{name}",)
                continue
            items = []
            for k, part in enumerate(other):
                place = places[i] if k == 0 else places[last] if k == len(other) - 1 else "m"
                items.append(f"gpc|{part}|{place[-1]}")
            yield i, last, tuple(items)


def _clusters(
    matches: list[tuple[int, int, Alternative]], choices: list[list[Alternative]]
) -> list[tuple[int, int, list[Alternative]]]:
    """Join overlapping stretches and list every way through each."""
    result = []
    matches = sorted(matches, key=lambda m: (m[0], m[1]))
    at = 0
    while at < len(matches):
        first, last = matches[at][0], matches[at][1]
        group = [matches[at]]
        at += 1
        while at < len(matches) and matches[at][0] <= last:
            last = max(last, matches[at][1])
            group.append(matches[at])
            at += 1
        result.append((first, last, list(_ways(first, last, group, choices))))
    return result


def _ways(
    at: int, last: int, group: list[tuple[int, int, Alternative]], choices: list[list[Alternative]]
) -> Iterator[Alternative]:
    if at > last:
        yield ()
        return
    for choice in choices[at]:
        for rest in _ways(at + 1, last, group, choices):
            yield (*choice, *rest)
    for first, end, items in group:
        if first == at:
            for rest in _ways(end + 1, last, group, choices):
                yield (*items, *rest)
