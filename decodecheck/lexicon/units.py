"""Units: what a reading asks a child to have been taught.

A unit is a stretch of a word with its alternatives; each alternative is a set of items; a child can read the stretch if
every item of one alternative has been taught. `items.py` lists the kinds of items, and the guards among them.

A word that is made of a known word (by an ending, as a compound, by un- or -ful) takes the units of that word as they are: so
a form can be read exactly when its base can be read and its ending is known.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from decodecheck.lexicon.analysis import Analysis, EndingSpan, Part
from decodecheck.lexicon.items import ADJACENT, ALWAYS, IRREGULAR, PLAIN_N, SHAPE, WEAKENED, Item
from decodecheck.lexicon.sequences import Alternative, matches, ways
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import Sound, has_vowel
from decodecheck.phonics.structure import adjacent_consonants, pattern, syllables

SHORT = {"a": "TRAP", "e": "DRESS", "i": "KIT", "o": "LOT", "u": "STRUT", "y": "KIT"}
"""A vowel letter's own short sound (common practice in the teaching of reading, no source)."""
WEAK = frozenset(("SCHWA", "KIT", "FOOT", "HAPPY"))
WITH_E = {"ce": "c", "se": "s", "ze": "z", "ge": "g"}
"""Consonant spellings with a silent e, and the letter with which one comes that a progression never mentions."""
MOST_ALTERNATIVES = 64
"""More are never needed: the compiler's audit counts the units that are cut off here."""
WITHOUT_SOUND = ("-s", "-es", "'s", "'d", "'ll", "'ve", "'re", "'m")
"""Endings that do not count as part of a word's structure, unless they add a vowel."""

Form = tuple[str, Sound, bool, bool]
"""A segment without its letters: grapheme, sound, linked, irregular."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A stretch of a word: the segments it covers (none for the word's structure) and its alternatives."""

    forms: tuple[Form, ...]
    alternatives: tuple[Alternative, ...]


UnitsOf = Callable[[Part], Sequence[Unit] | None]
"""The units of a part of a word as they are when it stands by itself; None where they are not known."""
_Span = tuple[int, int, list[Alternative]]
"""A stretch: its segments (from, to), and the ways to read it."""


def form(segment: Segment) -> Form:
    """The segment without its letters."""
    return (segment.grapheme, segment.sound, segment.linked, segment.irregular)


def doubled_single(grapheme: str) -> str:
    """The single letter of a doubled consonant, else nothing: ff gives f."""
    return grapheme[0] if len(grapheme) == 2 and grapheme[0] == grapheme[1] and grapheme[0] not in "aeiou" else ""


def build_units(analysis: Analysis, units_of: UnitsOf = lambda part: None) -> tuple[Unit, ...]:
    """The units of a word: its structure first, then its letters in order; those of its parts are taken from `units_of`."""
    segments = analysis.segments
    places = _places(analysis)
    many = syllables(segments) > 1
    choices = [_choices(segments, i, places[i], many) for i in range(len(segments))]
    spans: list[_Span] = []
    known = {part: found for part in analysis.parts if (found := units_of(part)) is not None}
    left_over: list[list[Alternative]] = []
    for part, units in known.items():
        taken, rest = _of_part(segments, part, units, places)
        spans += taken
        left_over += rest
    ending = analysis.ending
    if ending and ending.last >= ending.first:
        spans.append((ending.first, ending.last, _ending_alternatives(ending, segments, choices, places)))
    for more in left_over:
        # what a part asks for beyond the letters that are left of it: the le of gentle in gently
        first, last, before = spans.pop()
        spans.append((first, last, [(*a, *b) for a, b in product(more, before)]))
    covered = {i for first, last, _ in spans for i in range(first, last + 1)}
    free = [m for m in matches(segments, places, many) if not covered & set(range(m[0], m[1] + 1))]
    spans += _clusters(free, choices)
    result: list[Unit] = [Unit((), (_structure(analysis, known),))]
    starts = {first: (last, alternatives) for first, last, alternatives in spans}
    i = 0
    while i < len(segments):
        last, alternatives = starts.get(i, (i, choices[i]))
        result.append(Unit(tuple(form(s) for s in segments[i : last + 1]), fewest(alternatives)[:MOST_ALTERNATIVES]))
        i = last + 1
    return tuple(result)


def fewest(alternatives: Iterable[Alternative]) -> tuple[Alternative, ...]:
    """Alternatives without those that ask for all that another one asks for, and more; each with its items in order."""
    sets = list(dict.fromkeys(frozenset(a) for a in alternatives))
    kept = [s for s in sets if not any(other < s for other in sets)]
    return tuple(tuple(sorted(s)) for s in kept)


# -- the structure -----------------------------------------------------------------------------------------------------


def _structure(analysis: Analysis, known: dict[Part, Sequence[Unit]]) -> Alternative:
    """The word's structure as items. A word that divides has the structures of its parts; an ending has none."""
    ending = analysis.ending
    uncounted = (
        {
            i
            for i in range(ending.first, ending.last + 1)
            if ending.ending in WITHOUT_SOUND and not has_vowel(analysis.segments[i].sound)
        }
        if ending
        else set()
    )
    counted = [s for i, s in enumerate(analysis.segments) if i not in uncounted]
    whole = (Item.pattern(pattern(counted)), Item.syllables(syllables(counted)))
    if not known:
        return (*whole, *_shape(counted, analysis.joins))
    items = list(whole)
    inside = {i for part in known for i in range(part.first, part.last + 1)}
    for units in known.values():
        items += [item for item in units[0].alternatives[0] if item.kind in (SHAPE, ADJACENT)]
    if ending is None:
        # what stands beside a known word and is none itself: un-, -ful
        rest = [s for i, s in enumerate(analysis.segments) if i not in inside]
        items += _shape(rest, analysis.joins) if rest else ()
    return tuple(dict.fromkeys(items))


def _shape(segments: Sequence[Segment], joins: frozenset[int]) -> Alternative:
    runs = adjacent_consonants(segments, joins)
    return (Item.shape(pattern(segments)), *map(Item.adjacent, runs))


# -- the units of a part ------------------------------------------------------------------------------------------------


def _of_part(
    segments: Sequence[Segment], part: Part, units: Sequence[Unit], places: Sequence[str]
) -> tuple[list[_Span], list[list[Alternative]]]:
    """The units of a known word over its segments in the longer word, and the alternatives of units that have none left."""
    own = range(part.first, part.last + 1)
    lengths = [len(unit.forms) for unit in units[1:]]
    spans: list[_Span] = []
    left_over: list[list[Alternative]] = []
    at = part.first
    groups = lengths if sum(lengths) == len(own) else _by_letters(units[1:], [segments[i] for i in own])
    for unit, width in zip(units[1:], groups):
        alternatives = list(unit.alternatives)
        if not width:
            left_over.append(alternatives)
            continue
        if width == len(unit.forms) == 1:
            alternatives = _respelt(segments[at], unit.forms[0], alternatives, places[at])
        spans.append((at, at + width - 1, alternatives))
        at += width
    return spans, left_over


def _by_letters(units: Sequence[Unit], own: Sequence[Segment]) -> list[int]:
    """How many segments of the longer word stand for each unit, where they are divided otherwise: by where they begin."""
    ends: list[int] = []
    at = 0
    for unit in units:
        at += sum(len(grapheme.replace("-", "")) for grapheme, _, _, _ in unit.forms)
        ends.append(at)
    start = own[0].letters[0] if own else 0
    groups = [0] * len(units)
    for segment in own:
        offset = segment.letters[0] - start
        index = next((i for i, end in enumerate(ends) if offset < end), len(units) - 1)
        groups[index] += 1
    return groups


def _respelt(own: Segment, base: Form, alternatives: list[Alternative], place: str) -> list[Alternative]:
    """Ways to read a segment that an ending has given another vowel digraph: tried is read by the ie of pie and goes by the oe of
    toe where a progression has these, else as try and go are."""
    grapheme, sound, _, _ = base
    if len(own.grapheme) == len(grapheme) + 1 and own.grapheme in ("ie", "oe") and own.sound == sound != ("HAPPY",):
        unnamed = Item.unnamed(own.grapheme, sound)
        return [*((*a, unnamed) for a in alternatives), *gpc(own.grapheme, sound, place)]
    return alternatives


# -- single segments ---------------------------------------------------------------------------------------------------


def _places(analysis: Analysis) -> list[str]:
    n = len(analysis.segments)
    ends, starts = {n - 1}, {0}
    if analysis.ending and analysis.parts:
        ends.add(analysis.ending.first - 1)  # the wo of won't is no word that ends
    for i in range(n - 1):
        if analysis.segments[i + 1].letters[0] in analysis.joins:
            ends.add(i)
            if not analysis.ending or i + 1 != analysis.ending.first:
                starts.add(i + 1)
    return [("s" if i in starts else "") + ("e" if i in ends else "") or "m" for i in range(n)]


def gpc(grapheme: str, sound: Sound, place: str) -> list[Alternative]:
    """A correspondence at a place; at a place that is both start and end, either will do."""
    return [(Item.gpc(grapheme, sound, p),) for p in place]


def _choices(segments: tuple[Segment, ...], i: int, place: str, many: bool) -> list[Alternative]:
    """All ways to read one segment."""
    segment = segments[i]
    if segment.grapheme in ("'", "-"):
        return [(ALWAYS,)]
    if segment.irregular:
        return [(IRREGULAR,)]
    grapheme, sound = segment.grapheme, segment.sound
    result = gpc(grapheme, sound, place)
    single = doubled_single(grapheme)
    if single:
        result += [(*a, Item.single(grapheme, sound)) for a in gpc(single, sound, place)]
    if grapheme in WITH_E:
        result += [(*a, Item.unnamed(grapheme, sound)) for a in gpc(WITH_E[grapheme], sound, place)]
    if i and segments[i - 1].grapheme.endswith("-e") and inventory().get(f"{grapheme}e", sound):
        # face: the e of a-e is that of ce as well
        result += gpc(f"{grapheme}e", sound, "e")
    if sound == ("HAPPY",) and inventory().get(grapheme, ("FLEECE",)):
        result += gpc(grapheme, ("FLEECE",), place)
    if sound == ("ng",) and grapheme == "n":
        after = segments[i + 1].grapheme[0] if i + 1 < len(segments) else ""
        result += [(*a, *([PLAIN_N] if after == "k" else [])) for a in gpc("n", ("n",), place)]
    if many and segment.weak and grapheme in SHORT and weakened(segment, place):
        result += [(*a, WEAKENED) for a in gpc(grapheme, (SHORT[grapheme],), place)]
    return result


def weakened(segment: Segment, place: str) -> bool:
    """Is a single vowel letter weakened, so that its own short sound will do for it?"""
    if not segment.sound:
        return True
    if segment.sound == ("HAPPY",):
        return place == "m"
    return segment.sound[0] in WEAK and len(segment.sound) == 1 and segment.sound != (SHORT[segment.grapheme],)


# -- endings and stretches ---------------------------------------------------------------------------------------------

_E: tuple[Alternative, ...] = (
    (Item.gpc("e", ("DRESS",), "m"), WEAKENED),
    (Item.gpc("e", ("KIT",), "m"),),
    (Item.gpc("e", ("SCHWA",), "m"),),
)
"""The e of hunted and boxes: weakened, or as it is said."""


def _last(grapheme: str, code: str = "") -> Item:
    """A consonant at the end of a word; its sound is that of its letter, unless another is named."""
    return Item.gpc(grapheme, (code or grapheme,), "e")


_EXCUSED: dict[str, tuple[Alternative, ...]] = {
    "-s": ((_last("s"),), *((*e, _last("s", sound)) for e in _E for sound in "sz")),
    "-ed": tuple((*e, _last("d")) for e in _E),
    "n't": ((Item.gpc("n", ("n",), "m"), _last("t"), WEAKENED),),
    "'ll": ((_last("ll", "l"), WEAKENED), (_last("l"), Item.single("ll", ("l",)), WEAKENED)),
    "'ve": ((_last("ve", "v"), WEAKENED), (_last("v"), Item.unnamed("ve", ("v",)), WEAKENED)),
    "'re": ((_last("r"),),),
}
_EXCUSED |= {"-es": _EXCUSED["-s"], "'s": _EXCUSED["-s"]}


def _excused(ending: EndingSpan, segments: Sequence[Segment]) -> Iterator[Alternative]:
    """An ending that is read by its letters is excused its weak vowel and the voicing of its s; not the /t/ of jumped."""
    covered = segments[ending.first : ending.last + 1]
    vowel = any(has_vowel(s.sound) for s in covered)
    for items in _EXCUSED.get(ending.ending, ()):
        if ending.ending in ("-s", "-es", "'s") and vowel != (len(items) > 1):
            continue
        if ending.ending == "-ed" and not vowel:
            continue
        yield items


def _ending_alternatives(
    ending: EndingSpan, segments: tuple[Segment, ...], choices: list[list[Alternative]], places: list[str]
) -> list[Alternative]:
    guard = Item.letters(ending.ending)
    inside = [m for m in matches(segments, places, True) if ending.first <= m[0] and m[1] <= ending.last]
    by_letters = [*ways(ending.first, ending.last, inside, choices), *_excused(ending, segments)]
    return [(Item.ending(ending.ending),), *((*items, guard) for items in by_letters)]


def _clusters(found: list[tuple[int, int, list[Alternative]]], choices: list[list[Alternative]]) -> list[_Span]:
    """Join overlapping stretches and list every way through each."""
    result: list[_Span] = []
    found = sorted(found, key=lambda m: (m[0], m[1]))
    at = 0
    while at < len(found):
        first, last = found[at][0], found[at][1]
        group = [found[at]]
        at += 1
        while at < len(found) and found[at][0] <= last:
            last = max(last, found[at][1])
            group.append(found[at])
            at += 1
        result.append((first, last, list(ways(first, last, group, choices))))
    return result
