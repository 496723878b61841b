"""What `chain` prints."""

from __future__ import annotations

from typing import Any

from decodecheck.checking.findings._words import reasons
from decodecheck.errors import Problem, count
from decodecheck.judging.verdict import ALLOWED, TRICKY
from decodecheck.phonics.sounds import project
from decodecheck.printing import as_json
from decodecheck.reports.rows import aligned, as_csv
from decodecheck.source import shown
from decodecheck.wordlists.chain import Chain, NotDecodable
from decodecheck.wordlists.pool import SpokenWord
from decodecheck.wordlists.sound_sequences import ADDED, CHANGED, Change

HEAD = ("word", "graphemes", "change", "old_grapheme", "old_sound", "new_grapheme", "new_sound", "respelt")


def render(chain: Chain, form: str) -> str:
    """A chain as text, json or csv, ending in a line end."""
    return {"text": _text, "json": _json, "csv": _csv}[form](chain)


def refusal(error: NotDecodable, step: int) -> Problem:
    """What is said of a word that cannot be decoded at the step."""
    word, verdict = shown(error.word), error.verdict
    if verdict.status == TRICKY:
        what = f"{word} is a tricky word at step {step}; a chain is made of words that can be decoded."
        return Problem("chain", what, "Name another word.", code="not-decodable")
    if verdict.status == ALLOWED:
        what = f"{word} is allowed as a name or a sound; a chain is made of words that can be decoded."
        return Problem("chain", what, "Name another word.", code="not-decodable")
    why = f" {reasons(verdict.blockers)}" if verdict.blockers else ""
    what = f"{word} cannot be decoded at step {step}.{why}"
    later = ", or a later step" if verdict.blockers and all(b.taught_at is not None for b in verdict.blockers) else ""
    return Problem("chain", what, f"Name another word{later}.", code="not-decodable")


def _text(chain: Chain) -> str:
    words = chain.words
    way = f"{words[0].word} to {words[-1].word}"
    head = f"{way} in {count(len(chain.changes), 'change')}, at step {chain.step} of {chain.order.name}"
    rows = [
        (str(number), _named(word), " ".join(_graphemes(word)), said)
        for number, (word, said) in enumerate(zip(words, ["", *map(in_words, chain.changes)]), 1)
    ]
    return "\n".join([head, "", *aligned(rows)]) + "\n"


def in_words(change: Change) -> str:
    """A change in words: `s becomes sh: /s/ to /ʃ/`."""
    said = {
        CHANGED: lambda: _changed(change),
        ADDED: lambda: f"{_of(change.new)} comes in",
    }.get(change.kind, lambda: f"{_of(change.old)} falls out")()
    if change.respelt:
        said += "; " + ", ".join(f"{old} is now spelt {new}" for old, new in change.respelt)
    return said


def _changed(change: Change) -> str:
    assert change.old
    assert change.new
    (old, before), (new, after) = change.old, change.new
    if old == new:
        return f"{old} now says /{after}/, not /{before}/"
    return f"{old} becomes {new}: /{before}/ to /{after}/"


def _of(part: tuple[str, str] | None) -> str:
    assert part
    return f"{part[0]} /{part[1]}/"


def _named(word: SpokenWord) -> str:
    return f"{word.word} ({word.sense})" if word.sense else word.word


def _graphemes(word: SpokenWord) -> list[str]:
    return [form[0] for form in word.forms]


def _json(chain: Chain) -> str:
    words: list[dict[str, Any]] = [
        {
            "word": word.word,
            "sense": word.sense or None,
            "graphemes": [
                {"grapheme": g, "sounds": list(project(g, sound, linked, chain.order.accent))}
                for g, sound, linked, _ in word.forms
            ],
            "change": _change(change) if change else None,
        }
        for word, change in zip(chain.words, (None, *chain.changes))
    ]
    order = chain.order
    document = {"schema": 1, "progression": order.name, "step": chain.step, "accent": order.accent, "words": words}
    return as_json(document) + "\n"


def _change(change: Change) -> dict[str, Any]:
    def part(found: tuple[str, str] | None) -> dict[str, str] | None:
        return {"grapheme": found[0], "sound": found[1]} if found else None

    respelt = [{"from": old, "to": new} for old, new in change.respelt]
    return {
        "kind": change.kind,
        "place": change.place,
        "from": part(change.old),
        "to": part(change.new),
        "respelt": respelt,
    }


def _csv(chain: Chain) -> str:
    rows = []
    for word, change in zip(chain.words, (None, *chain.changes)):
        row = [word.word, " ".join(_graphemes(word))]
        if change:
            respelt = ", ".join(f"{old} {new}" for old, new in change.respelt)
            row += [change.kind, *(change.old or ("", "")), *(change.new or ("", "")), respelt]
        rows.append([*row, *[""] * (len(HEAD) - len(row))])
    return as_csv(HEAD, rows)
