"""The demo's progression, and variants of it as text."""

from pathlib import Path

from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve

DEMO = Path(__file__).parents[2] / "corpora_demo"
HARBOUR = DEMO / "harbour-lane.progression"


def harbour() -> TeachingOrder:
    return load(str(HARBOUR))


def order_of(text: str) -> TeachingOrder:
    order, problems = resolve(text, "x.progression")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    return order
