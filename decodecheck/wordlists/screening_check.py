"""The two sections of the year 1 phonics screening check in England: which graphemes and structures their pseudo-words have.

Source: `rules/screening_check.tsv`, which names the document.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from decodecheck.errors import UserError
from decodecheck.progression.meanings import choices
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

BUILT_IN = "screening_check.tsv"
SECTIONS = (1, 2)
TWO_SYLLABLES = "2 syllables"
CVC = "CVC"


@dataclass(frozen=True, slots=True)
class Section:
    """A section: its number, its own graphemes (section 2 has those of section 1, too), its structures."""

    number: int
    graphemes: frozenset[str]
    structures: tuple[str, ...]


@cache
def sections() -> dict[int, Section]:
    """Both sections by number."""
    rows = read_table(rules_folder() / BUILT_IN)
    found = {}
    for number in SECTIONS:
        own = [row for row in rows if row["section"] == str(number)]
        graphemes = frozenset(row["value"] for row in own if row["kind"] == "gpc")
        structures = tuple(row["value"] for row in own if row["kind"] == "structure")
        found[number] = Section(number, graphemes, structures)
    return found


@cache
def order_of_sections(accent: str) -> TeachingOrder:
    """The sections as steps 1 and 2 of a teaching order: each grapheme with the sounds that it stands for when it is named alone."""
    lines = ['progression "Phonics screening check"', f"accent {accent}"]
    for section in sections().values():
        lines.append(f"step {section.number}")
        lines += [f"  {_taught(grapheme, accent)}" for grapheme in sorted(section.graphemes)]
        earlier = sections()[1].structures if section.number > 1 else ()
        lines += [f"  structure {name}" for name in section.structures if name not in earlier]
    order, problems = resolve("\n".join(lines) + "\n", BUILT_IN)
    wrong = [p for p in problems if not p.note]
    if wrong:
        raise UserError(*wrong)
    return order


def _taught(grapheme: str, accent: str) -> str:
    """The statement that teaches a grapheme; where its name alone asks for a sound, with all that it asks about."""
    asked = [c.key_word for c in choices(grapheme, accent) if c.bare == "ask"]
    return f"teach {grapheme}" + (f" as in {' and '.join(asked)}" if len(asked) > 1 else "")
