"""Path patterns: `texts/step-{step}/*.txt`. A path is held against a pattern letter by letter, never going back.

All places of the pattern that a path may have reached are bits of one number, which every letter of the path moves on
(bit-parallel simulation of a nondeterministic automaton: Baeza-Yates and Gonnet 1992). So the time is at most that of the
length of the path times that of the pattern, whatever the pattern.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from pathlib import PurePosixPath

LONGEST = 4096
"""No path is longer (PATH_MAX of Linux), so no longer pattern can stand for one."""
STEP = "{step}"
_PARTS = re.compile(r"(\*\*/|\*\*|\*|\?|\{step\})")
_NUMBER = re.compile(r"\d+")


@dataclass(frozen=True, slots=True)
class Match:
    """A path that fits: the number that stands for {step} ("" where the pattern has none) and its offset in the path."""

    step: str = ""
    at: int = -1


class PathPattern:
    """A pattern for paths: * within a folder, ** across folders, ? one character, {step} a whole number, always the same."""

    def __init__(self, text: str) -> None:
        self.text = PurePosixPath(text).as_posix()
        pieces = _PARTS.split(self.text)
        self._literal = len(pieces) == 1
        self._head, self._tail = pieces[0], pieces[-1]

    def match(self, path: str) -> Match | None:
        """The path with its step, if it fits; of several numbers that may stand for {step}, the first."""
        if self._literal:
            return Match() if path == self.text else None
        if not (path.startswith(self._head) and path.endswith(self._tail)):
            return None
        if not self._steps:
            return Match() if self._run(path, None) else None
        numbers: Counter[str] = Counter()
        first: dict[str, int] = {}
        for found in _NUMBER.finditer(path):
            numbers[found[0]] += 1
            first.setdefault(found[0], found.start())
        for number, times in numbers.items():
            # a pattern that names the step three times needs a number that stands in the path three times
            if times >= self._steps and self._run(path, number):
                return Match(number, first[number] if times == self._steps else self._place(path, number))
        return None

    @cached_property
    def _steps(self) -> int:
        return self._tokens.count(STEP)

    @cached_property
    def _tokens(self) -> tuple[str, ...]:
        """Letters, and what stands for something else; what means no more than the token before it is left out."""
        found: list[str] = []
        for part in _PARTS.split(self.text):
            if part in ("*", "**", "**/", "?", STEP):
                before = found[-1] if found else ""
                if (before == "**" and part in ("*", "**", "**/")) or (before == part == "**/"):
                    continue
                if before == "**/" and part == "**":
                    found.pop()
                    if found[-1:] == ["**"]:
                        continue
                found.append(part)
            else:
                found += part
        return tuple(found)

    @cached_property
    def _automaton(self) -> _Automaton:
        return _Automaton.of(self._tokens)

    def _run(self, path: str, number: str | None) -> bool:
        return self._automaton.accepts(path, number)

    def _place(self, path: str, number: str) -> int:
        """Where the first {step} stands, of several places that hold the number: the first that the pattern can reach."""
        before = self._tokens[: self._tokens.index(STEP)]
        head = _Automaton.of(before)
        for found in _NUMBER.finditer(path):
            if found[0] == number and head.accepts(path[: found.start()], None):
                return found.start()
        return path.find(number)


@dataclass(frozen=True, slots=True)
class _Automaton:
    """Bit i stands for "everything before token i has been read"; `**/` has a second bit for "inside its folders"."""

    letters: dict[str, int]
    any_letter: int
    within: int
    across: int
    folders: int
    inside: int
    steps: int
    end: int

    @classmethod
    def of(cls, tokens: tuple[str, ...]) -> _Automaton:
        letters: dict[str, int] = {}
        masks = dict.fromkeys(("?", "*", "**", "**/", STEP, "inside"), 0)
        at = 0
        for token in tokens:
            bit = 1 << at
            if token in masks:
                masks[token] |= bit
                if token == "**/":
                    masks["inside"] |= bit << 1
                    at += 1
            else:
                letters[token] = letters.get(token, 0) | bit
            at += 1
        return cls(
            letters, masks["?"], masks["*"], masks["**"], masks["**/"], masks["inside"], masks[STEP], 1 << at
        )  # fmt: skip

    def _open(self, states: int) -> int:
        """With what may stand for nothing passed over. No three such tokens follow each other, so twice is enough."""
        for _ in range(2):
            states |= (states & (self.within | self.across)) << 1
            at_folders = states & self.folders
            states |= at_folders << 1 | at_folders << 2
        return states

    def accepts(self, path: str, number: str | None) -> bool:
        """Does the whole path fit, with the number for every {step}?"""
        states = self._open(1)
        waiting: dict[int, int] = {}
        size = len(number) if number else 0
        for at, letter in enumerate(path):
            if number and states & self.steps and _whole(path, at, number):
                waiting[at + size] = (states & self.steps) << 1
            moved = (states & self.letters.get(letter, 0)) << 1
            moved |= states & self.across | states & self.inside
            if letter == "/":
                moved |= (states & self.inside) << 1
            else:
                moved |= states & self.within | (states & self.any_letter) << 1
            moved |= waiting.pop(at + 1, 0)
            states = self._open(moved)
            if not states and not waiting:
                return False
        return bool(states & self.end)


def _whole(path: str, at: int, number: str) -> bool:
    """Does a number stand here, with no digit on either side?"""
    end = at + len(number)
    return (
        path.startswith(number, at)
        and not (at and path[at - 1].isdecimal())
        and not (end < len(path) and path[end].isdecimal())
    )
