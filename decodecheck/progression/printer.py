"""Print a progression in its canonical form: what `progression format` writes."""

from __future__ import annotations

from typing import assert_never

from decodecheck.progression import syntax
from decodecheck.progression.statements import Place, place_of
from decodecheck.progression.syntax import Item, Line, Source, Statement


def print_source(source: Source) -> str:
    """The whole file in canonical form, with its comments; parsing it gives the same statements again."""
    out: list[str] = []
    in_step = False
    for index, line in enumerate(source.lines):
        place = place_of(line.statement) if line.statement is not None else None
        if place is Place.HEAD or place is Place.OUTSIDE:
            in_step = place is Place.HEAD
        inside = in_step and place is not Place.HEAD
        if line.statement is None and line.comment and inside:
            following = _next_statement(source.lines[index:])
            inside = following is None or place_of(following) is Place.INSIDE
        out.append(print_line(line, "  " if inside else ""))
    return "\n".join(out).rstrip("\n") + "\n"


def _next_statement(lines: tuple[Line, ...]) -> Statement | None:
    return next((line.statement for line in lines if line.statement is not None), None)


def print_line(line: Line, indent: str) -> str:
    """One line: statement, then its comment."""
    statement = indent + print_statement(line.statement) if line.statement is not None else ""
    if not line.comment:
        return statement
    comment = f"# {line.comment}"
    return f"{statement}  {comment}" if statement else indent + comment


def print_statement(s: Statement) -> str:
    """One statement in canonical form."""
    match s:
        case syntax.Progression(title):
            return f'progression "{title}"'
        case syntax.Accent(name):
            return f"accent {name}"
        case syntax.Include(path):
            return f'include "{path}"'
        case syntax.Step(number, title):
            return f"step {int(number.value)}" + (f' "{title}"' if title else "")
        case syntax.Teach(items):
            return "teach " + "".join(_separated(items))
        case syntax.Together(names):
            return "together " + ", ".join(map(str, names))
        case syntax.Structure(shapes):
            return "structure " + ", ".join(
                f"{int(x.name.value)} syllable{'' if int(x.name.value) == 1 else 's'}" if x.syllables else x.name.value
                for x in shapes
            )
        case syntax.Tricky(words):
            return "tricky " + ", ".join(map(str, words))
        case syntax.Capitals(number):
            return f"capitals from step {int(number.value)}"
        case syntax.Doubled(number):
            return f"doubled letters from step {int(number.value)}"
        case syntax.AllowNames(names):
            return "allow names " + ", ".join(map(str, names))
        case syntax.AllowSounds(words):
            return "allow sounds " + ", ".join(map(str, words))
        case syntax.SkipNames():
            return "skip all names"
        case syntax.Weakened():
            return "weakened vowels exact"
        case syntax.Word(word, parts):
            return f"word {word} = " + " + ".join(
                f"{p.name} /{p.ipa}/" if p.ipa is not None else str(p.name) for p in parts
            )
        case _:
            assert_never(s)


def print_item(item: Item) -> str:
    """One taught item: `ow as in grow, at word end`."""
    words = " as in " + " and ".join(map(str, item.words)) if item.words else ""
    place = f", at word {item.place}" if item.place else ""
    return f"{item.name}{words}{place}"


def _separated(items: tuple[Item, ...]) -> list[str]:
    """Items with commas between them; a semicolon after one that has a comma of its own."""
    out = []
    for i, item in enumerate(items):
        out.append(print_item(item))
        if i + 1 < len(items):
            out.append("; " if item.place else ", ")
    return out
