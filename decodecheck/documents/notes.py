"""What a file says to decodecheck in its own comments: `decodecheck: skip`.

`skip` marks the paragraph it stands in, or else the next one; `begin skip` and `end skip` stand around what is not read by the child.
"""

from __future__ import annotations

import re

from decodecheck.errors import Problem, UserError, cut, nearest
from decodecheck.source import SourceText

SKIP, BEGIN, END = "skip", "begin skip", "end skip"
KNOWN = (SKIP, BEGIN, END)
_NOTE = re.compile(r"\s*decodecheck\s*:(.*)\Z", re.IGNORECASE | re.DOTALL)


def instruction(comment: str, source: SourceText, offset: int) -> str:
    """What a comment says to decodecheck, "" for a comment to people; `offset` is where it stands in its file.

    Raises UserError for an instruction that is not known.
    """
    match = _NOTE.match(comment)
    if not match:
        return ""
    said = " ".join(match[1].lower().split())
    if said in KNOWN:
        return said
    close = nearest(said, list(KNOWN), most=1)
    todo = f"Did you mean `{close[0]}`?" if close else f"Known are: {', '.join(KNOWN)}."
    raise UserError(mistake(source, offset, f"`decodecheck: {cut(said)}` is no instruction.", todo))


class Skipping:
    """Which parts of a file its comments mark as not read by the child."""

    def __init__(self, source: SourceText) -> None:
        self.source = source
        self.paragraph = False
        """Whether the paragraph that has begun, or else the next one, is skipped."""
        self.begun = -1
        """Where the stretch begins that is skipped now; -1 outside of one."""

    def take(self, comment: str, offset: int) -> None:
        """Follow a comment. Raises UserError for an instruction that is not known or has no partner."""
        said = instruction(comment, self.source, offset)
        if said == SKIP:
            self.paragraph = True
        elif said == BEGIN:
            if self.begun >= 0:
                what = f"`{BEGIN}` stands here, but line {self.source.place(self.begun)[0]} began to skip already."
                raise UserError(
                    mistake(self.source, offset, what, f"Write `decodecheck: {END}` first, or take this out.")
                )
            self.begun = offset
        elif said == END:
            if self.begun < 0:
                what = f"`{END}` stands here, but nothing is skipped."
                raise UserError(
                    mistake(self.source, offset, what, f"Write `decodecheck: {BEGIN}` above, or take this out.")
                )
            self.begun = -1

    def finish(self) -> None:
        """At the end of a file. Raises UserError where something is still skipped: it would never be checked."""
        if self.begun >= 0:
            what = f"`{BEGIN}` stands here, and nothing ends it."
            raise UserError(
                mistake(self.source, self.begun, what, f"Write `decodecheck: {END}` below what is skipped.")
            )


def mistake(source: SourceText, offset: int, what: str, todo: str, code: str = "") -> Problem:
    """What is wrong at an offset of a file, with its line."""
    line, column = source.place(offset)
    return Problem(source.path, what, todo, line, column, source.line(line), code=code)
