"""Where sentences begin and end, told by stops, quotation marks and blank lines."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

ENDS = ".!?"
"""Stops that end a sentence."""
MAY_END = "…:"
"""Stops after which a sentence may begin, and a name may stand as well."""
REACH = 1000
"""Characters on either side of a word in which what parts sentences is looked for."""
STOPS = f"{ENDS}{MAY_END};"
"""Stops that part what stands on either side."""
OPENING = "\"'“‘(["
CLOSING = "\"'”’)]"
LINE_END = re.compile(r"\r\n|\n|\r")

_STOPPED = frozenset(ENDS + MAY_END)
_BOUNDARY = rf"""["“”'‘’\n{STOPS}] (?: (?<=["“”{STOPS}]) | (?<=\n)\s*\n"""
BOUNDARY = re.compile(
    rf"{_BOUNDARY} | (?<!\w.)(?<=['‘])(?=\w) | (?<=[,.!?…—–-].)(?<=['’])(?!\w) )", re.VERBOSE | re.DOTALL
)
"""A stop, a blank line or a quotation mark, but not an apostrophe. What is said and who says it are apart ("Read it!" said Omar)."""
BOUNDARY_BACKWARDS = re.compile(
    rf"{_BOUNDARY} | (?<=\w['‘])(?!\w) | (?<!\w.)(?<=['’])(?=[,.!?…—–-]) )", re.VERBOSE | re.DOTALL
)
"""The same in a text that is turned round, where the nearest of those before a word is found first."""


def around(text: str, start: int, end: int, reach: int) -> tuple[int, int, str]:
    """Where the sentence around the word text[start:end] begins and ends, and the mark that it begins after.

    It is looked for no farther than `reach` characters from the word; the mark is "" where there is none so near.
    """
    # the word itself stays in view for what a mark must or must not stand next to
    turned = text[max(0, start - reach) : start + 1][::-1]
    before = BOUNDARY_BACKWARDS.search(turned, 1)
    after = BOUNDARY.search(text, end, end + reach)
    last = after.start() if after else min(end + reach, len(text))
    if before is None:
        return start + 1 - len(turned), last, ""
    return start + 1 - before.start(), last, turned[before.start()]


def starts_sentence(text: str, start: int, end_of_word_before: int) -> bool:
    """Does a sentence start at text[start]: after a full stop or the like, a blank line, or with an opening quotation mark?

    Between `end_of_word_before` and `start` there is only white space; it is 0 where no word comes before.
    """
    if not end_of_word_before or text[start] in OPENING:
        return True
    at = end_of_word_before - 1
    while at and text[at] in CLOSING:
        at -= 1
    if text[at] in _STOPPED:
        return True
    return start - end_of_word_before > 1 and len(LINE_END.findall(text, end_of_word_before, start)) > 1


def inside_sentence(text: str, start: int) -> bool:
    """Does a word at text[start] surely stand inside of a sentence: not at its start, and in no heading, whose words may all have capitals? A line that
    no stop ends is taken for a heading."""
    near = text[max(0, start - REACH) : start]
    before = start - len(near) + len(near.rstrip())
    if before == start or not near.strip() or starts_sentence(text, start, before):
        return False
    end = LINE_END.search(text, start, start + REACH)
    line = text[start : min(end.start() if end else len(text), start + REACH)]
    return any(stop in line for stop in STOPS)


_STOPPED_HERE = re.compile(rf"""[{ENDS}]["”’)\]{ENDS}…]*(?:\s|\Z)""")
_BLANK_LINE = re.compile(r"(?:\r\n|\n|\r)[^\S\r\n]*(?:\r\n|\n|\r)")
TITLES = frozenset(("Mr", "Mrs", "Ms", "Dr", "St"))
"""A full stop after one of these ends no sentence (common practice, no source)."""


def first_words(text: str, words: Iterable[tuple[int, int]]) -> Iterator[bool]:
    """For each word of a text, given where it starts and ends, whether it is the first of a sentence: the first of all, the first after a blank line,
    and one that follows a full stop, an exclamation or a question mark, unless it begins with a small letter ("Stop!" said Omar).

    A speech and who says it are one sentence; so a heading, and a line that no stop ends, runs up to the next blank line.
    """
    before = -1
    word_before = ""
    for start, end in words:
        gap = text[before:start] if before >= 0 else ""
        stop = _STOPPED_HERE.search(gap)
        titled = stop is not None and stop.start() == 0 and gap[:1] == "." and word_before in TITLES
        yield (
            before < 0
            or _BLANK_LINE.search(gap) is not None
            or (stop is not None and not titled and not text[start].islower())
        )
        before, word_before = end, text[start:end]
