"""Inflected forms: of which base a word may be which form, and what the same form of another base is.

Spelling proposes, and the lexicon disposes: of the ways in which a form might be spelt, those that it has are taken, the commonest first.
Irregular forms are in `rules/meanings/irregular.tsv`. The rules of spelling are those of `endings.py`, turned round.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from decodecheck.lexicon.endings import VOWELS, doubles, must_double, splits
from decodecheck.lexicon.meanings import ADJECTIVE, ADVERB, NOUN, VERB
from decodecheck.lexicon.store import Lexicon
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

BASE, PLURAL_OR_THIRD, PAST, PARTICIPLE, ING, COMPARATIVE, SUPERLATIVE = "", "-s", "-ed", "-en", "-ing", "-er", "-est"
TAKES = {
    NOUN: (BASE, PLURAL_OR_THIRD),
    VERB: (BASE, PLURAL_OR_THIRD, PAST, PARTICIPLE, ING),
    ADJECTIVE: (BASE, COMPARATIVE, SUPERLATIVE),
    ADVERB: (BASE, COMPARATIVE, SUPERLATIVE),
}
"""Which forms a word of each part of speech has."""
POSSESSIVES = ("'s", "'")


@dataclass(frozen=True, slots=True)
class Inflected:
    """A form of a base as a part of speech: the ending is one of TAKES; `possessive` is "", "'s" or "'"."""

    base: str
    pos: str
    ending: str
    possessive: str = ""


@dataclass(frozen=True)
class _Irregular:
    forms: dict[tuple[str, str], list[str]]
    bases: dict[str, list[tuple[str, str]]]


@cache
def _irregular() -> _Irregular:
    forms: dict[tuple[str, str], list[str]] = defaultdict(list)
    bases: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for row in read_table(rules_folder() / "meanings" / "irregular.tsv"):
        forms[row["base"], row["ending"]].append(row["form"])
        bases[row["form"]].append((row["base"], row["ending"]))
    return _Irregular(dict(forms), dict(bases))


def inflections(form: str) -> list[Inflected]:
    """All that a plain lower-case word may be by its spelling, as each part of speech; whether there is such a base is not asked.

    A noun alone has possessives: dog's, dogs', men's.
    """
    if form.endswith(POSSESSIVES):
        stem = form.rpartition("'")[0]
        wanted = PLURAL_OR_THIRD if form.endswith("s'") else None
        mark = form[len(stem) :]
        return [
            Inflected(i.base, NOUN, i.ending, mark)
            for i in inflections(stem)
            if i.pos == NOUN and wanted in (None, i.ending)
        ]
    found = [Inflected(form, pos, BASE) for pos in TAKES]
    for base, ending in dict.fromkeys([*_irregular().bases.get(form, ()), *_regular_bases(form)]):
        found += [Inflected(base, pos, ending) for pos in _of_ending(base, ending) if form in spelt(base, pos, ending)]
    return found


def _of_ending(base: str, ending: str) -> list[str]:
    """The parts of speech that have a form."""
    return [pos for pos, endings in TAKES.items() if ending in endings]


def _regular_bases(form: str) -> Iterator[tuple[str, str]]:
    for split in splits(form):
        ending = PLURAL_OR_THIRD if split.ending == "-es" else split.ending
        yield split.base, ending
        if ending == PAST:
            yield split.base, PARTICIPLE


def spelt(base: str, pos: str, ending: str) -> list[str]:
    """How a form of a base may be spelt: the irregular forms where it has any, else all that the rules allow."""
    if ending == BASE:
        return [base]
    irregular = _irregular().forms.get((base, ending))
    # a noun has no past and a verb no plural: leaves is a form of leaf, and of to leave
    if irregular and (ending != PLURAL_OR_THIRD or pos == NOUN):
        return irregular
    if ending == PLURAL_OR_THIRD:
        return _with_s(base)
    if ending == ING:
        if base.endswith("ie"):
            return [base[:-2] + "ying"]
        if base.endswith("e") and not base.endswith(("ee", "oe", "ye", "nge")) and len(base) > 2:
            return [base[:-1] + "ing"]
        both = [f"{base[:-1]}ing"] if base.endswith("nge") else []
        return [*_doubled(base, "ing"), *both]
    letters = {PAST: "ed", PARTICIPLE: "ed", COMPARATIVE: "er", SUPERLATIVE: "est"}[ending]
    if base.endswith("e"):
        return [base + letters[1:]]
    if base.endswith("y") and base[-2:-1] not in VOWELS:
        return [base[:-1] + "i" + letters]
    return _doubled(base, letters)


def _with_s(base: str) -> list[str]:
    if base.endswith(("s", "x", "z", "ch", "sh")):
        return [base + "es", *([base + base[-1] + "es"] if doubles(base) and base[-1] in "sz" else [])]
    if base.endswith("y") and base[-2:-1] not in VOWELS:
        return [base[:-1] + "ies"]
    if base.endswith("o") and base[-2:-1] not in VOWELS:
        return [base + "es", base + "s"]
    return [base + "s"]


def _doubled(base: str, letters: str) -> list[str]:
    if base.endswith("c"):
        return [f"{base}k{letters}"]
    if must_double(base):
        return [f"{base}{base[-1]}{letters}"]
    return [base + letters, *([f"{base}{base[-1]}{letters}"] if doubles(base) else [])]


def form_of(inflected: Inflected, lexicon: Lexicon) -> str:
    """The form as a lexicon has it, the commonest where it has several; "" where it has none."""
    known = [form for form in spelt(inflected.base, inflected.pos, inflected.ending) if lexicon.has(form)]
    if not known:
        return ""
    zipf = lexicon.tables.zipf
    form = max(known, key=lambda form: zipf[lexicon.tables.number(form)])
    if not inflected.possessive:
        return form
    return f"{form}'" if form.endswith("s") and inflected.ending == PLURAL_OR_THIRD else f"{form}'s"
