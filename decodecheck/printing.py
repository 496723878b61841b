"""What may be printed: no control character, no mark that reorders a line, no line that a CI log takes for a command."""

from __future__ import annotations

import re
import unicodedata

SIGN = "\ufffd"
"""Stands for every character that may not be printed (Unicode's replacement character)."""
JOINER = "\u200d"
_HIDDEN = frozenset(("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"))
"""General categories of Unicode whose characters have no picture of their own: controls, format characters, halves of
surrogate pairs, private and unassigned ones, the line and paragraph separators."""
_COMMAND = re.compile(r"^([^\S\n]*):(?=:)|#(?=#\w*\[)", re.MULTILINE)
"""What makes a line a command: `::` at its start (GitHub Actions, "Workflow commands"), `##[` or `##vso[` anywhere (Azure
Pipelines, "Logging commands"), `##teamcity[` (TeamCity, "Service messages"). From memory of these pages."""
_PICTURES = frozenset(("So", "Sk", "Mn"))
"""Categories of what a zero width joiner joins in an emoji: pictures, skin tones, the variation selector."""


def safe(text: str) -> str:
    """A piece of a line: what may not be printed becomes a sign of the same length, ends of lines included."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() or _may_stay(text, i) else SIGN for i, c in enumerate(text))


def safe_lines(text: str) -> str:
    """Whole lines, as `safe`; tabs stay, and no line is a command to the program that shows a log."""
    lines = text.split("\n")
    if not all(map(str.isprintable, lines)):
        text = "\n".join("\t".join(map(safe, line.split("\t"))) for line in lines)
    return harmless(text)


def harmless(text: str) -> str:
    """The text with one sign changed wherever a program that shows a log would take a line for a command."""
    if "::" in text or "##" in text:
        return _COMMAND.sub(lambda m: f"{m[1] or ''}{SIGN}", text)
    return text


def hidden(text: str) -> int:
    """Where the first character stands that may not be printed, ends of lines and tabs aside; -1 where there is none."""
    return next(
        (i for i, c in enumerate(text) if c not in "\r\n\t" and not c.isprintable() and not _may_stay(text, i)), -1
    )


def _may_stay(text: str, at: int) -> bool:
    """Whether a character that Python calls unprintable is a kind of blank, or a joiner inside an emoji."""
    character = text[at]
    if character == JOINER:
        around = text[at - 1 : at], text[at + 1 : at + 2]
        return all(c and unicodedata.category(c) in _PICTURES for c in around)
    return unicodedata.category(character) not in _HIDDEN


def columns(text: str) -> int:
    """How many columns of a terminal a text takes: wide characters two, combining ones none."""
    if text.isascii():
        return len(text)
    # a hundredth of a second to load, and few lines need it
    from rich.cells import cell_len

    return cell_len(text)


def as_json(value: object) -> str:
    """A value as one line of JSON. What may not be printed is written as an escape, so that nothing is lost."""
    # few commands print any
    import json

    line = json.dumps(value, ensure_ascii=False)
    if not line.isprintable():
        line = "".join(c if c.isprintable() or _may_stay(line, i) else _escape(c) for i, c in enumerate(line))
    # inside a text only: JSON has no such sign of its own
    return re.sub(r"#(?=#\w*\[)", r"\\u0023", line) if "##" in line else line


def _escape(character: str) -> str:
    """A character as JSON escapes it (RFC 8259, section 7): beyond the first plane as two."""
    import json

    return json.dumps(character)[1:-1]
