"""What a file says to decodecheck in its own comments: `decodecheck: skip`, `decodecheck: allow bread`, `decodecheck: step 9`.

`skip` marks the paragraph it stands in, or else the next one, as not read by the child; `begin skip` and `end skip` stand around more. `allow`
names a word that is not to be told, `step` and `group` say where the readers of the text stand.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from decodecheck.documents.allowance import EVERYWHERE, Allowance
from decodecheck.documents.document import Place
from decodecheck.errors import Problem, UserError, cut, nearest
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.progression.step_expression import Wanted
from decodecheck.source import SourceText

SKIP, BEGIN, END = "skip", "begin skip", "end skip"
ALLOW, BEGIN_ALLOW, END_ALLOW = "allow", "begin allow", "end allow"
STEP, GROUP = "step", "group"
KNOWN = {
    SKIP: SKIP, BEGIN: BEGIN, END: END, ALLOW: "allow WORD", BEGIN_ALLOW: "begin allow WORD", END_ALLOW: "end allow WORD", STEP: "step STEP",
    GROUP: "group NAME",
}  # fmt: skip
"""Every instruction, and how it is written."""
_NOTE = re.compile(r"\s*decodecheck\s*:(.*)\Z", re.IGNORECASE | re.DOTALL)
_SAID = re.compile(r"((?:(?:begin|end)\s+)?[^\W\d_]+)\s*(.*)\Z", re.IGNORECASE | re.DOTALL)
_ALLOWED = re.compile(r"(\S+)(?:\s+\[([^\]]*)\])?\s*(.*)\Z", re.DOTALL)


@dataclass(frozen=True, slots=True)
class OwnStep:
    """The step that a text names itself, or (`group`) the name of its group, with the place of it."""

    wanted: Wanted
    group: bool = False


@dataclass(frozen=True, slots=True)
class Instruction:
    """What a comment says, "" for a comment to people, and what stands behind that."""

    name: str
    rest: str = ""


def instruction(comment: str, source: SourceText, offset: int) -> Instruction:
    """What a comment says to decodecheck; `offset` is where it stands in its file. Raises UserError for an instruction that is not known."""
    match = _NOTE.match(comment)
    if not match:
        return Instruction("")
    said = " ".join(match[1].split())
    parts = _SAID.match(said)
    name, rest = (" ".join(parts[1].lower().split()), parts[2]) if parts else ("", "")
    if name in KNOWN and (name not in (SKIP, BEGIN, END) or not rest):
        return Instruction(name, rest)
    close = nearest(said.lower(), list(KNOWN), most=1) or nearest(name, list(KNOWN), most=1)
    todo = f"Did you mean `{KNOWN[close[0]]}`?" if close else f"Known are: {', '.join(KNOWN.values())}."
    raise UserError(mistake(source, offset, f"`decodecheck: {cut(said)}` is no instruction.", todo))


class Notes:
    """What the comments of a file say of its text, which is followed as it grows."""

    def __init__(self, source: SourceText) -> None:
        self.source = source
        self.paragraph = False
        """Whether the paragraph that has begun, or else the next one, is skipped."""
        self.begun = -1
        """Where the stretch begins that is skipped now; -1 outside of one."""
        self.own_step: OwnStep | None = None
        self._allowed: list[Allowance] = []
        self._waiting: list[Allowance] = []
        """Allowances for the paragraph that has begun, or else the next one."""
        self._open: dict[str, dict[str, Allowance]] = {}
        """What has begun to be allowed, by word and kind."""

    @property
    def allowances(self) -> tuple[Allowance, ...]:
        """The words that are allowed, in the order of their comments; complete at the end of the file."""
        return tuple(sorted(self._allowed, key=lambda allowance: allowance.spans))

    def take(self, comment: str, start: int, end: int, length: int, *, in_text: bool) -> None:
        """Follow a comment at source[start:end], where so many characters of the text have been read; `in_text` says whether any text
        stands before it.

        Raises UserError for an instruction that is not known, stands in the wrong place, or has no partner.
        """
        said = instruction(comment, self.source, start)
        match said.name:
            case "skip":
                self.paragraph = True
            case "begin skip" | "end skip":
                self._skip(said.name, start)
            case "step" | "group":
                self._step(said, start, in_text)
            case "allow" | "begin allow" | "end allow":
                self._allow(said, start, end, length, in_text)

    def part(self, start: int, end: int) -> None:
        """A paragraph ends that is text[start:end]."""
        self._allowed += [replace(allowance, start=start, end=end) for allowance in self._waiting]
        self._waiting.clear()

    def finish(self, length: int) -> None:
        """At the end of a file. Raises UserError where something is still skipped or allowed: nobody would know up to where."""
        if self.begun >= 0:
            what = f"`{BEGIN}` stands here, and nothing ends it."
            raise self._wrong(self.begun, what, f"Write `decodecheck: {END}` below what is skipped.")
        for allowance in (allowance for kinds in self._open.values() for allowance in kinds.values()):
            what = f"`{BEGIN_ALLOW} {allowance.word}` stands here, and nothing ends it."
            todo = f"Write `decodecheck: {END_ALLOW} {allowance.word}` below."
            raise self._wrong(allowance.spans[0][0], what, todo)
        self.part(length, length)

    def names_step(self, value: str, offset: int, *, group: bool) -> None:
        """The text names its step or group, at an offset of the file. Raises UserError where it has named one already."""
        if self.own_step:
            what = "The step of this text is given twice" + (
                f", first in line {self.own_step.wanted.line}." if self.own_step.wanted.line else "."
            )
            raise self._wrong(offset, what, "Keep one of the two.")
        line, column = self.source.place(offset)
        wanted = Wanted(value, self.source.path, line, column, self.source.line(line), value if group else "")
        self.own_step = OwnStep(wanted, group)

    def _skip(self, name: str, offset: int) -> None:
        if name == BEGIN:
            if self.begun >= 0:
                what = f"`{BEGIN}` stands here, but line {self.source.place(self.begun)[0]} began to skip already."
                raise self._wrong(offset, what, f"Write `decodecheck: {END}` first, or take this out.")
            self.begun = offset
            return
        if self.begun < 0:
            what = f"`{END}` stands here, but nothing is skipped."
            raise self._wrong(offset, what, f"Write `decodecheck: {BEGIN}` above, or take this out.")
        self.begun = -1

    def _step(self, said: Instruction, offset: int, in_text: bool) -> None:
        value = said.rest.lstrip(":= ").strip()
        if not value:
            what = f"`decodecheck: {said.name}` names no {said.name}."
            example = "step 9" if said.name == STEP else "group Limpets"
            raise self._wrong(offset, what, f"Write for instance: decodecheck: {example}")
        if in_text:
            what = "The step of a text stands before its first word."
            raise self._wrong(offset, what, "Write this comment at the top, or take it out.")
        at = self.source.text.find(value, offset)
        self.names_step(value, at if at >= 0 else offset, group=said.name == GROUP)

    def _allow(self, said: Instruction, start: int, end: int, length: int, in_text: bool) -> None:
        match = _ALLOWED.match(said.rest)
        word = match[1].rstrip(":;,") if match else ""
        plain = plain_spelling(word).plain
        if not (match and any(character.isalpha() for character in plain)):
            what = f"`decodecheck: {said.name}` names no word."
            raise self._wrong(start, what, f"Write for instance: decodecheck: {said.name} bread")
        line, column = self.source.place(start)
        kind = (match[2] or "").strip()
        places = Place(line, column), Place(*self.source.place(end))
        allowance = Allowance(word, kind, match[3], 0, EVERYWHERE, *places, self.source.line(line), ((start, end),))
        if said.name == END_ALLOW:
            self._end(allowance, plain, start, length)
        elif said.name == BEGIN_ALLOW:
            begun = self._open.setdefault(plain, {}).get(kind)
            if begun:
                what = f"`{BEGIN_ALLOW} {word}` stands here, but line {begun.place.line} began that already."
                raise self._wrong(start, what, f"Write `decodecheck: {END_ALLOW} {word}` first, or take this out.")
            self._open[plain][kind] = replace(allowance, start=length)
        elif in_text:
            self._waiting.append(allowance)
        else:
            self._allowed.append(allowance)

    def _end(self, said: Allowance, plain: str, offset: int, length: int) -> None:
        kinds = self._open.get(plain, {})
        kind = said.kind or next(reversed(kinds), "")
        begun = kinds.pop(kind, None)
        if begun is None:
            what = f"`{END_ALLOW} {said.word}` stands here, but nothing has begun to allow that."
            raise self._wrong(offset, what, f"Write `decodecheck: {BEGIN_ALLOW} {said.word}` above, or take this out.")
        self._allowed.append(replace(begun, end=length, spans=begun.spans + said.spans))

    def _wrong(self, offset: int, what: str, todo: str) -> UserError:
        return UserError(mistake(self.source, offset, what, todo))


def mistake(source: SourceText, offset: int, what: str, todo: str, code: str = "") -> Problem:
    """What is wrong at an offset of a file, with its line."""
    line, column = source.place(offset)
    return Problem(source.path, what, todo, line, column, source.line(line), code=code)
