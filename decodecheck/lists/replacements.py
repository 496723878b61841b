"""Words that could stand for another in a list: decodable, with the same target, number of sounds and structure."""

from __future__ import annotations

from decodecheck.errors import UserError
from decodecheck.lexicon.store import Reading
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.find import FoundWord, find
from decodecheck.wordlists.shown import shown_segments, structure
from decodecheck.wordlists.targets import Target
from decodecheck.wordlists.wanted import Range, WantedWords

AMONG = 40
"""Of so many of the likeliest words, the one that is most like the other is taken."""
MOST = 40
"""So many sorts of words are looked for; a list with more faults is hardly mended word by word."""
Asked = tuple[int, Target | None, int, str]


class Replacements:
    """Finds replacements; no word is offered twice, and none that is in `used`."""

    def __init__(self, order: TeachingOrder, used: frozenset[str]) -> None:
        self.order = order
        self._used = set(used)
        self._found: dict[Asked, list[FoundWord]] = {}

    def find(self, step: int, target: Target | None, reading: Reading | None, sounds: int) -> str:
        """A word for a list of a step; "" where there is none. `reading` is that of the word that it is to stand for, with so many
        sounds; without a word of the same structure, one with the same number of sounds will do."""
        if reading is None:
            return ""
        for shape in (structure(reading), ""):
            fitting = [f for f in self._fitting((step, target, sounds, shape)) if f.word.lower() not in self._used]
            if fitting:
                # the likeliest come first, and stay first among those that are as like
                best = max(fitting, key=lambda f: _shared(f.reading, reading))
                self._used.add(best.word.lower())
                return best.word
        return ""

    def _fitting(self, asked: Asked) -> list[FoundWord]:
        found = self._found.get(asked)
        if found is None:
            found = self._looked_for(asked) if len(self._found) < MOST else []
            self._found[asked] = found
        return found

    def _looked_for(self, asked: Asked) -> list[FoundWord]:
        step, target, sounds, shape = asked
        wanted = WantedWords(
            targets=(target,) if target else (),
            sounds=Range(str(sounds), sounds, sounds),
            structures=(shape,) if shape else (),
            endings=False,
            apart=True,
            number=AMONG,
            order="common",
        )
        try:
            words = find(self.order, step, wanted).words
        except UserError:  # no word fits
            return []
        return sorted(words, key=lambda f: -f.likely)


def _shared(one: Reading, other: Reading) -> int:
    """How many graphemes two readings have in common."""
    rest = [s.grapheme for s in other.segments]
    shared = 0
    for segment in shown_segments(one):
        if segment.grapheme in rest:
            rest.remove(segment.grapheme)
            shared += 1
    return shared
