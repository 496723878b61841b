"""Letters that stand out in a terminal: the brackets around what is in the way of a word, and all within them, are printed bold.

While a report is laid out, two characters that Unicode sets aside for a program's own use stand for such brackets, so that a line is
as wide with them as without.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from decodecheck.printing import harmless, safe


class Signs(NamedTuple):
    """What stands before and after letters that are in the way."""

    before: str
    after: str


BRACKETS = Signs("[", "]")
STRONG = Signs("\ufdd0", "\ufdd1")
"""Noncharacters (Unicode 16.0, section 23.7): no text is to hold them, and one that does is printed without emphasis."""
BOLD, PLAIN = "\x1b[1m", "\x1b[22m"
"""ECMA-48, SGR 1 and 22."""
_SIGN = re.compile(f"([{STRONG.before}{STRONG.after}])")


def signs_for(text: str, *, emphasis: bool) -> Signs:
    """The signs to lay a report on a text out with."""
    return STRONG if emphasis and not _SIGN.search(text) else BRACKETS


def safe_but_signs(line: str) -> str:
    """A line with what may not be printed made safe; the signs stay."""
    return "".join(part if part in STRONG else safe(part) for part in _SIGN.split(line))


def emphasised(text: str) -> str:
    """Whole lines ready to be printed as they are: safe, with bold type for the signs."""
    return "\n".join(map(_line, text.split("\n")))


def _line(line: str) -> str:
    line = harmless(safe_but_signs(line))
    still_bold = line.rfind(STRONG.before) > line.rfind(STRONG.after)
    line = line.replace(STRONG.before, f"{BOLD}{BRACKETS.before}").replace(STRONG.after, f"{BRACKETS.after}{PLAIN}")
    return line + PLAIN if still_bold else line
