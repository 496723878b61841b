"""How a check is to be shown: what was asked for, and where it goes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from decodecheck.run import Report


def _nobody(report: Report) -> Sequence[str]:
    return ()


@dataclass(frozen=True, slots=True)
class View:
    """What a format is asked to show.

    `width` is that of the terminal in columns, 0 where the output goes elsewhere. `details` asks for places, excerpts and remedies of each word,
    `every_place` for each of its places, `word` for one word alone. `quiet` leaves out what is fine. `every_word` lists fine words for programs.
    `readers` gives the groups that can read a text. With `emphasis`, letters that stand in the way are printed bold.
    """

    width: int = 0
    details: bool = False
    every_place: bool = False
    word: str = ""
    quiet: bool = False
    every_word: bool = False
    readers: Callable[[Report], Sequence[str]] = _nobody
    emphasis: bool = False
