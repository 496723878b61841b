"""Name what is wrong with a decodecheck.toml that is no TOML, in words of our own for the common mistakes."""

from __future__ import annotations

import re

from decodecheck.errors import Problem

EXAMPLES = {
    "progression": '"school.progression"',
    "step": "12",
    "files": '"texts/step-{step}/*.txt"',
    "word": '"read"',
    "sense": '"past"',
    "line": "12",
    "pipeline": '"en_core_web_sm"',
}
"""A value for each key."""
KEY = re.compile(r"\s*([\w.\"'-]+)\s*=")
TEXT_IN_QUOTES = re.compile(r'"(?:\\.|[^"\\])*+(")?|\'[^\']*+(\')?')
"""A text in quotation marks, or one that nothing closes: that is looked for once, not again from each mark in it."""
MOST_DOTS = 32
"""More dots outside quotation marks make no key; the parser's time grows with their square."""


def too_deep(path: str, text: str) -> Problem | None:
    """The problem for a key with too many dots, which is not worth parsing; None where there is none."""
    for number, line in enumerate(text.split("\n"), 1):
        if line.count(".") > MOST_DOTS and _bare(line).count(".") > MOST_DOTS:
            at = _bare(line).index(".") + 1
            return Problem(
                path, "This key has too many dots.", "No key of this file has more than one.", number, at, line
            )
    return None


def unparsed(path: str, text: str, error: Exception) -> Problem:
    """The problem for a text that Python's parser gives up on with an error of another kind."""
    if isinstance(error, RecursionError):
        return Problem(
            path, "Brackets stand inside brackets too deep here.", "Nothing in this file needs more than two."
        )
    lines = text.split("\n")
    number = next((n for n, line in enumerate(lines, 1) if re.search(r"[\d_]{1000}", line)), 1)
    found = re.search(r"[\d_]{1000}", lines[number - 1])
    at = found.start() + 1 if found else 1
    return Problem(path, "This number is too long.", "Write for instance: step = 12", number, at, lines[number - 1])


def _bare(line: str) -> str:
    """A line with dots of another kind for what stands in quotation marks, and without its comment."""
    hidden = TEXT_IN_QUOTES.sub(lambda m: "\u00b7" * len(m[0]) if m[1] or m[2] else m[0], line)
    return hidden.partition("#")[0].rstrip()


def explain_toml(path: str, text: str, error: str) -> Problem:
    """The problem for a text that is no TOML; `error` is what Python's parser says of it."""
    lines = text.replace("\r\n", "\n").split("\n")
    place = re.search(r"\(at line (\d+), column (\d+)\)", error)
    if place:
        number, column = int(place[1]), int(place[2])
    else:
        number = max((n for n, line in enumerate(lines, 1) if line.strip()), default=1)
        column = len(lines[number - 1].rstrip())
    number = min(number, len(lines))
    line = lines[number - 1]
    found = _mistake(lines, number, column, error)
    if found is None:
        what = re.sub(r" \(at .*\)", "", error)
        found = (f"This is not TOML: {what}.", "See https://toml.io for the form of such a file.", column, 1)
    what, todo, at, width = found
    return Problem(path, what, todo, number, min(max(1, at), max(1, len(line))), line, width)


def _mistake(lines: list[str], number: int, column: int, error: str) -> tuple[str, str, int, int] | None:
    """What is wrong, what to do, column and width; None for what is not known here."""
    line = lines[number - 1]
    bare = _bare(line)
    key = KEY.match(line)
    value = bare[key.end() :].strip() if key else ""
    at_value = len(bare) - len(bare[key.end() :].lstrip()) + 1 if key else 1
    if key and not value:
        return "There is nothing after the equals sign.", _example(key[1]), key.end(), 1
    quotes = [m.start() + 1 for m in re.finditer("[\"']", bare)]
    if quotes and not re.search("\"\"\"|'''", line):
        return "The quotation mark is not closed.", "End the text with a second quotation mark.", quotes[0], 1
    if key and "Cannot overwrite" in error:
        name = key[1].strip("\"'")
        before = _before(lines, number, name)
        where = f", first in line {before}" if before else ""
        return f"`{name}` is given twice{where}.", "Keep one of the two lines.", line.index(key[1]) + 1, len(key[1])
    table = re.match(r"\s*\[+\s*([\w.\"-]+)", line)
    if table and ("Cannot declare" in error or "Cannot mutate" in error or "Cannot overwrite" in error):
        what = f"[{table[1]}] is opened twice."
        return what, f"Open each with a line [[{table[1]}]].", table.start(1) + 1, len(table[1])
    if table and re.fullmatch(r"\s*+\[++[^\]]*+\]?", bare) and bare.count("[") > bare.count("]"):
        marks = bare.count("[")
        return "The bracket is not closed.", f"Write {'[' * marks}{table[1]}{']' * marks}.", column, 1
    if key and value[:1] == "0" and re.fullmatch(r"\d\d+", value):
        return "A number has no zeros before it.", f"Write {key[1]} = {value.lstrip('0') or '0'}", at_value, len(value)
    backslash = line.find("\\") + 1
    if backslash and "scape" in error:
        return "There is a backslash in a text.", "In a path, write / instead.", backslash, 1
    if key and value[0] in "“”‘’":
        return "These are not straight quotation marks.", 'Write it as "TEXT".', at_value, len(value)
    if key and re.match(r"[^\W\d]|`", value) and column >= at_value and column < at_value + len(value) + 1:
        return "This text is not in quotation marks.", 'Write it as "TEXT".', at_value, len(value)
    if not key and re.match(r"\s*[\w\"'-]", bare):
        return "This line has no equals sign in its place.", _example(re.split(r"\W", bare.strip())[0]), column, 1
    if key and "Expected newline" in error:
        return "Something stands after the value.", "Take it out, or put it on a line of its own.", column, 1
    return None


def _example(key: str) -> str:
    """A line with a key that is right."""
    known = key if key in EXAMPLES else "progression"
    return f"Write for instance: {known} = {EXAMPLES[known]}"


def _before(lines: list[str], number: int, name: str) -> int:
    """The line above, in the same table, that gives a key; 0 where there is none."""
    for n in range(number - 1, 0, -1):
        if lines[n - 1].lstrip().startswith("["):
            return 0
        key = KEY.match(lines[n - 1])
        if key and key[1].strip("\"'") == name:
            return n
    return 0
