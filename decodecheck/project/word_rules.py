"""The tables of a configuration that are about single words: [[allow]] and [[settled]]."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from decodecheck.documents.document import Place
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.project.kind_names import kind_names, nearest_kind
from decodecheck.project.patterns import LONGEST, PathPattern
from decodecheck.project.rules import Complain, hint
from decodecheck.project.toml_places import Places

PLACES = {"line": int, "paragraph": int, "page": int, "chapter": str, "sheet": str, "cell": str}
"""Keys of [[settled]] that say where in a text a word stands, each with what it must be."""
SETTLED_KEYS = ("files", "word", "sense", *PLACES)
ALLOW_KEYS = ("words", "files", "kind", "reason")
EVERYWHERE = "**"


@dataclass(frozen=True, slots=True)
class Settled:
    """The sense of a word that somebody settled by hand: in which files, at which place, which sense."""

    paths: PathPattern
    word: str
    place: Place
    sense: str
    pattern: str = EVERYWHERE
    at: int = 0
    """Where its table opens; 0 where that is not known."""


@dataclass(frozen=True, slots=True)
class AllowRule:
    """Words that are not to be told in some files, and why; with a `kind`, only findings of that kind are not told."""

    paths: PathPattern
    words: tuple[str, ...]
    kind: str = ""
    reason: str = ""
    pattern: str = EVERYWHERE
    at: int = 0
    """Where its table opens; 0 where that is not known."""


def settled_rules(tables: object, complain: Complain, places: Places) -> tuple[Settled, ...]:
    """The [[settled]] tables: word and sense, and where."""
    found = []
    for number, table in _tables("settled", tables, complain, places, SETTLED_KEYS):
        word, sense = table.get("word"), table.get("sense")
        files, place = table.get("files", EVERYWHERE), {key: table[key] for key in PLACES if key in table}
        known = all(isinstance(value, PLACES[key]) for key, value in place.items())
        if not (isinstance(word, str) and isinstance(sense, str) and known and isinstance(files, str)):
            complain(
                "settled",
                "A [[settled]] table needs a `word` and a `sense`.",
                'Write for instance: word = "read", sense = "past", line = 12',
                number,
            )
            continue
        if _too_long(files, complain, number):
            continue
        found.append(Settled(PathPattern(files), word.lower(), Place(**place), sense, files, places.head(number)))
    return tuple(found)


def allow_rules(tables: object, complain: Complain, places: Places) -> tuple[AllowRule, ...]:
    """The [[allow]] tables."""
    found = []
    for number, table in _tables("allow", tables, complain, places, ALLOW_KEYS):
        words, files = table.get("words"), table.get("files", EVERYWHERE)
        if not isinstance(words, list) or not words or not all(isinstance(w, str) and _is_word(w) for w in words):
            key = "words" if "words" in table else "allow"
            what = "`words` is no list of single words." if "words" in table else "An [[allow]] table needs `words`."
            complain(key, what, 'Write for instance: words = ["Zofka", "kerplop"]', number)
            continue
        others = {key: table.get(key, "") for key in ("kind", "reason")}
        wrong = next((key for key, value in others.items() if not isinstance(value, str)), "")
        if wrong or not isinstance(files, str):
            complain(wrong or "files", f"`{wrong or 'files'}` is not a text.", "Write it in quotation marks.", number)
            continue
        if others["kind"] and others["kind"] not in kind_names():
            what = f"There is no kind of finding called {others['kind']!r}."
            complain("kind", what, nearest_kind(others["kind"]), number)
            continue
        if _too_long(files, complain, number):
            continue
        rule = AllowRule(PathPattern(files), tuple(words), others["kind"], others["reason"], files, places.head(number))
        found.append(rule)
    return tuple(found)


def _is_word(text: str) -> bool:
    return bool(text) and not any(character.isspace() for character in text) and bool(plain_spelling(text).plain)


def _too_long(files: str, complain: Complain, number: int) -> bool:
    if len(files) > LONGEST:
        complain(files, "This pattern is longer than any path.", "Write a shorter one.", number)
    return len(files) > LONGEST


def _tables(
    name: str, tables: object, complain: Complain, places: Places, keys: tuple[str, ...]
) -> list[tuple[int, dict[str, Any]]]:
    """Each table of a list with its number; keys that are not known are complained of."""
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        complain(name, f"`{name}` is not a list of tables.", f"Open each with a line [[{name}]].")
        return []
    found = []
    for nth, table in enumerate(tables, 1):
        number = places.number(name, nth)
        for key in table:
            if key not in keys:
                complain(key, f"`{key}` is no key of [[{name}]].", hint(key, keys), number)
        found.append((number, table))
    return found
