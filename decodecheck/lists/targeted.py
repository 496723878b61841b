"""Does a word hold what a list is for?"""

from __future__ import annotations

from collections.abc import Sequence

from decodecheck.lexicon.items import GPC, TOGETHER
from decodecheck.lexicon.store import Reading
from decodecheck.phonics.align import Segment
from decodecheck.phonics.sounds import project
from decodecheck.wordlists.targets import Target


def holds(readings: Sequence[Reading], target: Target) -> bool:
    """Whether a reading holds the target: in its own division, as a combination or ending that covers a stretch, or in another accepted
    division of it. (`wordlists/find.py` asks the same of the whole lexicon at once, but for other divisions.)"""
    return any(_held(reading, target) for reading in readings)


def _held(reading: Reading, target: Target) -> bool:
    for unit in reading.units:
        if any((grapheme, sound) in target.forms for grapheme, sound, _, irregular in unit.forms if not irregular):
            return True
        own, *others = unit.alternatives
        if any(item in target.items and (item.kind != GPC or item.correspondence not in target.forms) for item in own):
            return True
        # another accepted division covers a stretch of several graphemes; of a single one, the alternatives excuse what is not there
        if len(unit.forms) > 1 and any(
            item in target.items for a in others for item in a if item.kind in (GPC, TOGETHER)
        ):
            return True
    return False


def letters_of(readings: Sequence[Reading], target: Target) -> Segment | None:
    """The first grapheme of a word that has the letters of a target, whatever it says; None for none."""
    wanted = set(target.graphemes)
    return next((s for reading in readings for s in reading.segments if s.grapheme in wanted), None)


def same_sound(readings: Sequence[Reading], target: Target, accent: str) -> str:
    """The grapheme that says what a target says, in a word that does not hold it; "" for none."""
    wanted = {
        project(grapheme, sound, False, accent)
        for grapheme, sound in (i.correspondence for i in target.items if i.kind == GPC)
    }
    return next(
        (
            s.grapheme
            for reading in readings
            for s in reading.segments
            if s.sound and project(s.grapheme, s.sound, s.linked, accent) in wanted
        ),
        "",
    )
