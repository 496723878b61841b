"""Finds as the tests ask for them."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load
from decodecheck.wordlists.find import Found, find, fitting
from decodecheck.wordlists.targets import target
from decodecheck.wordlists.wanted import WantedWords

ROOT = Path(__file__).parents[2]
HARBOUR = ROOT / "corpora_demo" / "harbour-lane.progression"
EVERYTHING = ROOT / "rules" / "progressions" / "everything.progression"


@cache
def order_at(path: Path) -> TeachingOrder:
    return load(str(path))


def harbour() -> TeachingOrder:
    return order_at(HARBOUR)


def everything() -> TeachingOrder:
    return order_at(EVERYTHING)


def found(order: TeachingOrder, step: int, *targets: str, without: tuple[str, ...] = (), **more: Any) -> Found:
    """A find with the targets given as they are typed."""
    held = tuple(target(order, text, "--with") for text in targets)
    kept_out = tuple(target(order, text, "--without") for text in without)
    return find(order, step, WantedWords(targets=held, without=kept_out, **more))


def plain_words(order: TeachingOrder, step: int, **more: Any) -> set[str]:
    """All words that a find has, in small letters, without all that is told of them."""
    known = order.lexicon.tables.words()
    return {known[number] for number in fitting(order, step, WantedWords(**more))[0].tolist()}


def words(result: Found) -> list[str]:
    return [word.word for word in result.words]
