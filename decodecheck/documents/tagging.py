"""Parts of speech from a trained spaCy pipeline, used only where a configuration names one."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from decodecheck.errors import Problem, UserError

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.tokens import Doc

REACH = 400


def part_of_speech(tag: str) -> str:
    """A Penn Treebank tag (Marcus, Santorini and Marcinkiewicz 1993) as a part of speech of the context rules, "" for others."""
    if tag in ("VBD", "VBN", "NNP", "NNPS"):
        return {"VBD": "PAST", "VBN": "PART"}.get(tag, "PROPN")
    return next(
        (pos for head, pos in (("VB", "VERB"), ("NN", "NOUN"), ("JJ", "ADJ"), ("RB", "ADV")) if tag.startswith(head)),
        "",
    )


def tag_at(doc: Doc, start: int, end: int) -> str:
    """The part of speech of the token at doc.text[start:end]."""
    for token in doc:
        if token.idx <= start < token.idx + len(token.text) or start <= token.idx < end:
            return part_of_speech(token.tag_)
    return ""


def tagger(name: str) -> Callable[[str, int, int], str]:
    """A function that tags text[start:end] in its paragraph. Raises UserError where the pipeline is not installed."""
    nlp = _load(name)

    def tag(text: str, start: int, end: int) -> str:
        first = max(text.rfind("\n\n", 0, start) + 1, start - REACH, 0)
        last = text.find("\n\n", end)
        doc = nlp(text[first : min(last if last >= 0 else len(text), end + REACH)])
        return tag_at(doc, start - first, end - first)

    return tag


@cache
def _load(name: str) -> Language:
    import spacy

    try:
        return spacy.load(name)
    except OSError:
        raise UserError(
            Problem(
                "decodecheck.toml",
                f"The spaCy pipeline {name!r} is not installed.",
                f"Install it (python -m spacy download {name}), or take `pipeline` out.",
            )
        ) from None
