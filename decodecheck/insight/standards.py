"""The published standards that ship as progressions, and what of one a progression does not cover."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from decodecheck.errors import Problem, UserError, nearest
from decodecheck.insight.naming import taught
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.inventory import together
from decodecheck.progression.first_steps import first_steps
from decodecheck.progression.meanings import key_word, projected
from decodecheck.progression.order import Mention, TeachingOrder
from decodecheck.progression.resolve import resolve_file
from decodecheck.resources import rules_folder

BY_ACCENT = {
    "southern-british": "england-national-curriculum",
    "northern-english": "england-national-curriculum",
    "general-american": "us-common-core-foundational-skills",
}
"""Which standard goes with which accent. None is shipped for Scotland."""


@dataclass(frozen=True, slots=True)
class Uncovered:
    """An item or tricky word of a standard that a progression does not teach, and the standard's step (a year or grade)."""

    name: str
    step: str
    tricky: bool = False


def shipped() -> dict[str, Path]:
    """The progressions that ship with the program, by name."""
    return {p.stem: p for p in sorted((rules_folder() / "progressions").glob("*.progression"))}


def standard(order: TeachingOrder, name: str | None = None) -> str:
    """The name of the standard to compare with: the one asked for, else the accent's; "" where there is none.

    Raises UserError for a name that is not shipped.
    """
    if name is None:
        return BY_ACCENT.get(order.accent, "")
    known = sorted(set(BY_ACCENT.values()))
    if name not in known:
        close = nearest(name, known, most=1)
        todo = (f"Did you mean {close[0]}? " if close else "") + f"Shipped are: {', '.join(known)}."
        raise UserError(Problem("--standard", f"There is no standard called {name!r}.", todo))
    return name


def uncovered(order: TeachingOrder, name: str | None = None) -> tuple[str, list[Uncovered]]:
    """The title of a standard and what of it a progression never teaches, in the standard's order; "" where there is none.

    Structures, syllables and capitals hold nothing back unless they are mentioned, so leaving them out leaves nothing out.
    """
    chosen = standard(order, name)
    if not chosen or chosen not in shipped():
        return "", []
    published = resolve_file(str(shipped()[chosen]), order.accent)[0]
    titles = {s.number: s.title or str(s.number) for s in published.steps}
    found = [
        Uncovered(text, titles[mention.step]) for mention in published.mentions for text in _missing(order, mention)
    ]
    found += [
        Uncovered(published.tricky_spelling[word], titles[step], tricky=True)
        for word, step in published.tricky.items()
        if first_steps(order).readable(word) == NEVER
    ]
    return published.name, found


def _missing(order: TeachingOrder, mention: Mention) -> list[str]:
    if mention.kind == "correspondence":
        return _missing_sounds(order, mention)
    if mention.kind == "together":
        name = next(iter(mention.keys)).name
        # what is never taught as one item may be readable by its parts
        if mention.keys & order.item_step.keys():
            return []
        return [] if first_steps(order).decodable(together()[name].key_word) < NEVER else [name]
    if mention.kind == "ending":
        return [] if mention.keys & order.item_step.keys() else [mention.label]
    return []


def _missing_sounds(order: TeachingOrder, mention: Mention) -> list[str]:
    """Each sound of a correspondence that is not taught, or taught only at one end of words."""
    whole = taught(order, mention)
    if whole and not mention.keys & order.item_step.keys():
        return [whole.statement]
    found: dict[str, str] = {}
    grapheme = next(iter(mention.keys)).grapheme
    by_sound: dict[str, list[Item]] = {}
    for key in sorted(mention.keys):
        by_sound.setdefault(projected(grapheme, key.sound, order.accent), []).append(key)
    for projection, keys in by_sound.items():
        missing = [key for key in keys if key not in order.item_step]
        if not missing:
            continue
        text = f"{grapheme} as in {key_word(grapheme, keys[0].sound, order.accent)}"
        only = {key.place for key in keys} - {key.place for key in missing}
        found[projection] = text + (" (taught only at one end of words)" if only else "")
    return list(found.values())
