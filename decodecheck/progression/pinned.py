"""A reading that the user pins: `word Niamh = n + ia /iː/ + mh /v/`."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from decodecheck.lexicon.analysis import Analysis
from decodecheck.lexicon.letters import place_graphemes, spell
from decodecheck.lexicon.store import Reading
from decodecheck.lexicon.units import build_units
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import Sound, plain_ipa, project, sound_codes

if TYPE_CHECKING:
    # `explain` reads no progression, and a module of so many dataclasses takes a tenth of its time
    from decodecheck.progression.syntax import Text, Word

LONGEST_IPA = 40
"""Characters between slashes; no grapheme has more than three sounds."""


class PinError(Exception):
    """A pinned reading that does not fit; `at` is the piece of the statement that is wrong."""

    def __init__(self, at: Text, what: str, todo: str) -> None:
        super().__init__(what)
        self.at, self.what, self.todo = at, what, todo


def pinned_reading(statement: Word, accent: str) -> Reading:
    """The reading of a `word` statement. Raises PinError."""
    word = statement.word.value.lower().replace("’", "'")
    graphemes = [part.name.value.lower() for part in statement.parts]
    spelt = spell_safely(graphemes)
    if spelt != word.replace("'", "") and spelt != word:
        raise PinError(
            statement.parts[0].name,
            f"The graphemes spell `{spelt}`, not `{statement.word}`.",
            "Write every letter once, in order; a split digraph stands at its vowel: `m + a-e + k`.",
        )
    segments = []
    for part, grapheme, letters in zip(statement.parts, graphemes, place_graphemes(graphemes)):
        sound = _sound(part.name, grapheme, part.ipa, accent)
        segments.append(Segment(grapheme, sound, False, False, letters))
    units = build_units(Analysis(tuple(segments), 0))
    return Reading(tuple(segments), units, "yours")


def pin_text(form: str, reading: Reading, accent: str) -> str:
    """The `word` statement that pins a reading, ready to paste; a sound is written where the grapheme alone would not give it."""
    parts = []
    for s in reading.segments:
        if s.grapheme == "'":
            continue
        rows = inventory().by_grapheme.get(s.grapheme, [])
        usual = [c for c in rows if c.bare != "no"] or rows
        said = project(s.grapheme, s.sound, s.linked, accent)
        plain = bool(usual) and project(s.grapheme, usual[0].sound, s.linked, accent) == said
        parts.append(s.grapheme if plain else f"{s.grapheme} /{''.join(said) or '-'}/")
    return f"word {form} = {' + '.join(parts)}"


def spell_safely(graphemes: list[str]) -> str:
    """The letters that graphemes spell, "" where a split digraph has nothing to close around."""
    try:
        return spell(graphemes)
    except (KeyError, IndexError):
        return ""


def _sound(name: Text, grapheme: str, said: Text | None, accent: str) -> Sound:
    rows = inventory().by_grapheme.get(grapheme, [])
    if said is None:
        usual = [c for c in rows if c.bare != "no"] or rows
        if not usual:
            raise PinError(
                name, f"The sound of `{grapheme}` is not known.", f"Write it between slashes: `{grapheme} /.../`."
            )
        return usual[0].sound
    ipa = said.value
    if not ipa:
        todo = f"Write the sound there, or `{grapheme} /-/` for a silent grapheme, or take the slashes out."
        raise PinError(said, "There is nothing between the slashes.", todo)
    if len(ipa) > LONGEST_IPA:
        todo = "Write only what this grapheme says, and the other graphemes after it with +."
        raise PinError(said, "That is more than one grapheme says.", todo)
    if ipa in ("-", "∅"):
        return ()
    wanted = plain_ipa(ipa)
    for c in rows:
        if plain_ipa("".join(project(grapheme, c.sound, False, accent))) == wanted:
            return c.sound
    # an accent whose vowels are written without a length mark is meant all the same
    sound = _read_ipa(wanted, accent) or _read_ipa(wanted.replace("ː", ""), accent)
    if sound is None:
        known = " ".join(dict.fromkeys("".join(s.ipa[accent]) for s in sound_codes().values()))
        raise PinError(said, f"`/{ipa}/` is not written in sounds of the accent {accent}.", f"Its sounds are: {known}")
    return sound


def _read_ipa(wanted: str, accent: str) -> Sound | None:
    """Sound codes whose IPA strings, longest first, make up a string."""
    result: list[str] = []
    table = _ipa_codes(accent)
    at = 0
    while at < len(wanted):
        for ipa, code in table:
            if wanted.startswith(ipa, at):
                result.append(code)
                at += len(ipa)
                break
        else:
            return None
    return tuple(result) or None


@cache
def _ipa_codes(accent: str) -> list[tuple[str, str]]:
    found: dict[str, str] = {}
    for code in sound_codes().values():
        found.setdefault(plain_ipa("".join(code.ipa[accent])), code.code)
    return sorted(found.items(), key=lambda pair: -len(pair[0]))
