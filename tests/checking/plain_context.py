"""The context rules read as they are written: every rule asked about every word, slowly.

`tests/checking/test_context_rules.py` holds `decodecheck.checking.context` to this.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from decodecheck.checking.context import LEAD, RARE_HANDICAP, TAG_VOTES, Choice, Neighbours
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*|\d+|[.!?…;:]+|,|[—–]|--")
STOPS = frozenset((".", "!", "?", "…", ";", ":"))
QUOTE = re.compile(r"[\"“”]|(?<!\w)[‘'](?=\w)|(?<=[,.!?…—–-])[’'](?!\w)")
BESIDE = ("plural", "not-past-form", "not-ly")
OWN = 99


def neighbours(text: str, start: int, end: int, reach: int = 160) -> Neighbours:
    """What `context.neighbours` gives."""
    left, right = text[max(0, start - reach) : start], text[end : end + reach]
    left = re.split(r"\n\s*\n", left)[-1]
    right = re.split(r"\n\s*\n", right)[0]
    # the word itself stays in view for what a mark must or must not stand next to
    left = left[max((m.end() for m in QUOTE.finditer(left + text[start:end]) if m.end() <= len(left)), default=0) :]
    after_word = next((m.start() - 1 for m in QUOTE.finditer(text[end - 1 : end] + right) if m.start()), len(right))
    right = right[:after_word]
    before: list[str] = []
    names: set[str] = set()
    for match in reversed(list(WORD.finditer(left))):
        token = match[0]
        if token[0] in STOPS:
            break
        before.append(_plain(token))
        if (
            token[:1].isupper()
            and left[: match.start()].strip()
            and not left[: match.start()].rstrip().endswith((".", "!", "?"))
        ):
            names.add(token.lower())
    after: list[str] = []
    for match in WORD.finditer(right):
        if match[0][0] in STOPS:
            break
        after.append(_plain(match[0]))
    while after and after[-1] == ",":
        after.pop()
    return Neighbours(tuple(before), tuple(after), text[start : start + 1].isupper(), frozenset(names))


def _plain(token: str) -> str:
    if token in (",", "—", "–", "--"):
        return ","
    return token.lower().replace("’", "'")


@cache
def _classes() -> dict[str, frozenset[str]]:
    return {
        row["class"]: frozenset(row["words"].split(" "))
        for row in read_table(rules_folder() / "context" / "classes.tsv")
    }


@cache
def _class_words() -> frozenset[str]:
    return frozenset(word for name, words in _classes().items() if name not in BESIDE for word in words)


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition: the offset (0: anywhere in the sentence; OWN), what may stand there, and whether it is denied."""

    offset: int
    options: tuple[str, ...]
    denied: bool


@dataclass(frozen=True, slots=True)
class Rule:
    conditions: tuple[Condition, ...]
    votes: tuple[tuple[str, float], ...]


@cache
def _rules() -> tuple[Rule, ...]:
    return tuple(_rule(row["where"], row["votes"]) for row in read_table(rules_folder() / "context" / "rules.tsv"))


def _rule(where: str, votes: str) -> Rule:
    conditions = []
    for part in where.split(" "):
        place, _, options = part.lstrip("!").partition("=")
        offset = 0 if place == "far" else OWN if place == "own" else int(place)
        conditions.append(Condition(offset, tuple(options.split("|")), part.startswith("!")))
    weights = [re.split("(?=[+-])", vote) for vote in votes.split(" ")]
    return Rule(tuple(conditions), tuple((pos, float(weight)) for pos, weight in weights))


@cache
def _cues() -> dict[str, list[tuple[str, float, list[str]]]]:
    found: dict[str, list[tuple[str, float, list[str]]]] = {}
    for row in read_table(rules_folder() / "context" / "cues.tsv"):
        found.setdefault(row["word"], []).append((row["sense"], float(row["weight"]), row["words"].split(" ")))
    return found


def votes_for(word: str, around: Neighbours) -> dict[str, float]:
    """The votes for each part of speech."""
    votes: dict[str, float] = {}
    for rule in _rules():
        if all(holds(c, word, around) for c in rule.conditions):
            for pos, weight in rule.votes:
                votes[pos] = votes.get(pos, 0.0) + weight
    return votes


def choose(word: str, around: Neighbours, choices: Sequence[Choice], tag: str = "") -> str | None:
    """What `context.choose` gives."""
    votes = votes_for(word, around)
    if tag:
        votes[tag] = votes.get(tag, 0.0) + TAG_VOTES
    scores = {}
    for choice in choices:
        known = [votes.get(pos, 0.0) for pos in choice.pos]
        score = max(known, default=0.0)
        if "PROPN" in choice.pos:
            score += -4.0 if not around.capital else 3.0 if around.before else 0.0
        if choice.rare:
            score -= RARE_HANDICAP
        scores[choice.label] = score
    for sense, weight, cues in _cues().get(word, ()):
        if sense in scores:
            hits = sum(_cued(cue, around) for cue in cues)
            scores[sense] += weight * min(hits, 2)
    ranked = sorted(scores, key=lambda label: -scores[label])
    if len(ranked) == 1 or scores[ranked[0]] - scores[ranked[1]] >= LEAD:
        return ranked[0]
    return None


def _cued(cue: str, around: Neighbours) -> bool:
    if "&" in cue:
        return all(_cued(part, around) for part in cue.split("&"))
    if cue.startswith("!"):
        return not _cued(cue[1:], around)
    place, _, wanted = cue.rpartition(":")
    words = [w for w in (_at(int(place), around),) if w] if place else [*around.before, *around.after]
    if wanted.endswith("*"):
        return any(w.startswith(wanted[:-1]) for w in words)
    return wanted in words


def _at(offset: int, around: Neighbours) -> str | None:
    side = around.before if offset < 0 else around.after
    return side[abs(offset) - 1] if abs(offset) <= len(side) else None


def holds(condition: Condition, word: str, around: Neighbours) -> bool:
    if condition.offset == 0:
        words = (*around.before, *around.after)
        result = any(_is(option, w, around, True) for option in condition.options for w in words)
    else:
        here = word if condition.offset == OWN else _at(condition.offset, around)
        result = any(_is(option, here, around, condition.offset < 0) for option in condition.options)
    return result != condition.denied


def _is(option: str, word: str | None, around: Neighbours, before: bool) -> bool:
    if option == "start":
        return word is None and before
    if option == "end":
        return (word is None or word == ",") and not before
    if word is None:
        return False
    if option == "comma":
        return word == ","
    if option[0] == '"':
        return word == option[1:-1]
    if option in ("plural", "past-form", "ing", "ly"):
        return _has_ending(option, word)
    owner = word.endswith("'s") and word not in _class_words()
    if option == "name":
        return word in around.names and word not in _class_words() and not owner
    if option == "noun-like":
        return word != "," and word not in _class_words() and not owner
    if (option == "past" and _has_ending("past-form", word)) or (option == "possessive" and owner):
        return True
    return word in _classes()[option]


def _has_ending(option: str, word: str) -> bool:
    if option == "plural":
        regular = word.endswith("s") and not word.endswith(("ss", "us", "is", "'s")) and len(word) > 3
        return (regular and word not in _class_words()) or word in _classes()["plural"]
    if option == "past-form":
        return word.endswith("ed") and len(word) > 3 and word not in _classes()["not-past-form"]
    if option == "ly":
        return word.endswith("ly") and len(word) > 4 and word not in _classes()["not-ly"]
    return word.endswith("ing") and len(word) > 4
