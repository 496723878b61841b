"""What may stand for the blocked words of texts: as text to read, as a table, and for programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Any

from decodecheck.documents.document import Place
from decodecheck.errors import count, cut, cut_path
from decodecheck.insight.replace import Proposal
from decodecheck.insight.replacing import REASONS, Replaceable, Replacements
from decodecheck.lexicon.store import NEVER
from decodecheck.printing import as_json, columns, safe
from decodecheck.reports.records import place_record
from decodecheck.reports.rows import as_csv

SCHEMA = 1
NOTE = (
    "These are proposals, for you to choose from: decodecheck knows what words mean in general, not what you mean here.\n"
    "Behind each stand what it is to the word, the step from which it can be read, and how common it is likely to be in books for children."
)
WIDTH = 100
PLACES = 4
"""So many places of a word are named in a line."""
HEAD = ("path", "word", "sense", "times", "first_place", "proposal", "kind", "part_of_speech", "first_step", "child_zipf", "article", "none")  # fmt: skip


def as_text(texts: Sequence[Replacements]) -> str:
    """The texts one after the other, ending in a line end."""
    lines: list[str] = []
    for text in texts:
        lines += [*_text(text), ""]
    told = any(word.proposals for text in texts for word in text.words)
    return "\n".join([*(safe(line) for line in lines), *([NOTE, ""] if told else [])])


def _text(text: Replacements) -> Iterator[str]:
    path = cut_path(text.path)
    if not text.words:
        yield f"{path}: no blocked words at step {text.step}."
        return
    having = sum(bool(word.proposals) for word in text.words)
    yield f"{path}: replacements for {having} of {count(len(text.words), 'blocked word')} at step {text.step}, {text.order}"
    for word in text.words:
        if word.proposals:
            yield from _proposed(word)
    for reason in REASONS:
        alike = [_named(word) for word in text.words if word.reason == reason]
        if alike:
            yield from wrap(
                f"none ({reason}): {', '.join(dict.fromkeys(alike))}",
                WIDTH,
                initial_indent="  ",
                subsequent_indent="    ",
            )


def _proposed(word: Replaceable) -> Iterator[str]:
    yield f"  {_named(word)}, {_places(word.places)}"
    width = max(columns(p.word) for p in word.proposals)
    for p in word.proposals:
        gap = " " * (width - columns(p.word))
        yield f"    {p.word}{gap}  {p.kind}; step {p.first_step}, {p.child_zipf:.1f}{_article(p)}"


def _named(word: Replaceable) -> str:
    return cut(word.word) + (f" ({word.sense})" if word.sense else "")


def _article(proposal: Proposal) -> str:
    if not proposal.article:
        return ""
    other = "an" if proposal.article == "a" else "a"
    return f'; "{other}" before it becomes "{proposal.article}"'


def _places(places: Sequence[Place]) -> str:
    named = list(dict.fromkeys(place.words() for place in places))
    more = f" and {len(named) - PLACES} more" if len(named) > PLACES else ""
    return "; ".join(named[:PLACES]) + more


def as_table(texts: Sequence[Replacements]) -> str:
    """The texts as CSV: a row for each proposal, and one for each word without any."""
    return as_csv(HEAD, (row for text in texts for word in text.words for row in _rows(text, word)))


def _rows(text: Replacements, word: Replaceable) -> Iterator[tuple[object, ...]]:
    own = (text.path, word.word, word.sense, len(word.places), word.places[0].words(column=True))
    for p in word.proposals:
        yield *own, p.word, p.kind, p.pos, p.first_step, f"{p.child_zipf:.2f}", p.article, ""
    if not word.proposals:
        yield *own, "", "", "", "", "", "", word.reason


def as_document(texts: Sequence[Replacements]) -> str:
    """The texts as JSON; `replace-1.schema.json` beside this file is its schema."""
    files = [{"path": t.path, "step": t.step, "words": [_word(word) for word in t.words]} for t in texts]
    return as_json({"schema": SCHEMA, "files": files}) + "\n"


def _word(word: Replaceable) -> dict[str, Any]:
    return {
        "word": word.word,
        "sense": word.sense or None,
        "first_step": None if word.first_step == NEVER else word.first_step,
        "times": len(word.places),
        "places": [place_record(place) for place in word.places],
        "proposals": [
            {
                "word": p.word,
                "kind": p.kind,
                "part_of_speech": p.pos,
                "first_step": p.first_step,
                "child_zipf": round(p.child_zipf, 2),
                "article": p.article or None,
            }
            for p in word.proposals
        ],
        "none": word.reason or None,
    }
