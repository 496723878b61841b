"""A first progression from what a school has already: rows of a step, items, example words, tricky words.

The rows are written as statements, one row a line, and resolved like any progression, so that every mistake is found and told
at the piece it comes from. Then the lines of one step are joined.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from decodecheck.errors import Problem
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import lexicon_of, plain_ipa
from decodecheck.progression import meanings
from decodecheck.progression.many import MOST
from decodecheck.progression.resolve import resolve

ROOM = 88
"""How long a line of items gets."""
HEADING = re.compile(
    r"\b(?:year|reception|term|half|revision|revise|review|recap|sounds?|phonics|assess(?:ment)?|consolidat(?:e|ion)|holidays?|"
    r"weeks?|autumn|spring|summer|class|plan|practice|catch|order of)\b",
    re.IGNORECASE,
)
"""A cell or line with one of these words, and with no comma or bracket, names nothing to teach."""
IN_SLASHES = re.compile(r"([A-Za-z](?:[A-Za-z-]*[A-Za-z])?)\s?/([^/\s,;|]{1,12})/(?![A-Za-z])")
"""`s/z/`: a grapheme with its sound."""
LENGTHS = ("long", "short")
"""What people write of two sounds of a grapheme, and what no word in the lexicon says."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Text of the user's with its place: a path (which may name a cell), a line (0: none), a column, the text around it."""

    text: str
    path: str = ""
    line: int = 0
    column: int = 1
    excerpt: str = ""

    def problem(self, what: str, todo: str, token: str = "") -> Problem:
        """A problem at a token of the piece, or at the whole of it."""
        at = max(0, self.text.find(token)) if token else 0
        width = len(token) if token and token in self.text else max(1, len(self.text))
        return Problem(self.path, what, todo, self.line, self.column + at, self.excerpt or self.text, width)


EMPTY = Piece("")


@dataclass(frozen=True, slots=True)
class Row:
    """One row: a step ("" goes on with the one before), items, example words for them, tricky words."""

    step: Piece = EMPTY
    items: Piece = EMPTY
    words: Piece = EMPTY
    tricky: Piece = EMPTY


@dataclass(frozen=True, slots=True)
class _Statement:
    """One statement to be written, with the pieces its parts came from."""

    keyword: str
    parts: tuple[str, ...]
    piece: Piece
    words: Piece = EMPTY


def draft(rows: Sequence[Row], title: str, accent: str) -> tuple[str, list[Problem]]:
    """The text of a progression made of rows, and what is wrong with them; the text is usable only where nothing is."""
    problems: list[Problem] = []
    steps = _by_step(rows, problems)
    once = Counter(item for _, _, group in steps for row in group for item in _items(row.items.text))
    statements = [(number, name, _statements(group, accent, once, problems)) for number, name, group in steps]
    text, origin = _written(title, accent, statements)
    for problem in resolve(text, "draft", drafted=True)[1] if steps else ():
        if not problem.note:
            # to find a token in a cell takes time, and only the first problems are told
            problems.append(_at_its_piece(problem, origin.get(problem.line), len(problems) < 2 * MOST))
    places: dict[tuple[str, int], int] = {}
    for row in rows:
        for piece in (row.step, row.items, row.words, row.tricky):
            places.setdefault((piece.path, piece.line), len(places))
    problems.sort(key=lambda p: places.get((p.path, p.line), 0))
    if not steps and not problems:
        problems.append(Problem("", "There is nothing to teach here.", "Write a step and what it teaches."))
    return _joined(title, accent, statements), problems


def _by_step(rows: Sequence[Row], problems: list[Problem]) -> list[tuple[int, str, list[Row]]]:
    """Rows grouped by step: number, title, rows. A step without a number gets the next one."""
    found: list[tuple[int, str, list[Row]]] = []
    label = None
    last = 0
    for row in rows:
        if not (row.items.text or row.tricky.text):
            if row.words.text:
                problems.append(row.words.problem("An example word without an item.", "Write the item beside it."))
            continue
        if row.step.text and row.step.text != label:
            label = row.step.text
            match = numbered(label)
            before = found[-1][0] if found else 0
            if re.fullmatch(r"(?:step\s*)?\d+[.,]\d+", label, re.IGNORECASE):
                what = f"The step {label} is no whole number."
                problems.append(row.step.problem(what, "Number steps 1, 2, 3; a step has no parts."))
                match = None
            number = int(match[1]) if match else before + 1
            name = match[2] if match else label
            if number <= last:
                what = f"Step {number} comes after step {last}." if last else "Steps are numbered from 1."
                problems.append(row.step.problem(what, "Sort the rows by step, and number steps from 1 upwards."))
            last = max(number, last)
            # a step out of order is told once; the rest goes on behind it
            found.append((max(number, before + 1), name.replace('"', "'").strip(), []))
        elif not found:
            found.append((1, "", []))
        found[-1][2].append(row)
    return found


def numbered(label: str) -> re.Match[str] | None:
    """The number that a step is named by, and what follows it; None for a title, or a date."""
    if re.match(r"\d{1,4}([-/.])\d{1,2}\1\d", label):
        return None
    return re.match(r"(?:step\s*+)?(\d{1,4})(?!\w)(?![.,]\d)[\s:.,-]*+(.*)\Z", label, re.IGNORECASE | re.DOTALL)


def is_heading(text: str) -> bool:
    """Does a cell or line only say where in the year one is, and name no grapheme?"""
    if re.search(r"[,;(|]", text) or not HEADING.search(text):
        return False
    return not any(word in inventory().by_grapheme for word in text.split())


def _items(text: str) -> list[str]:
    """The items of a cell or line, between commas, semicolons or lines, or by spaces; as a progression writes them.

    What people write is understood: a_e and a–e for a split digraph, capitals (S, Ss, Sh) for graphemes, ea/ee for two,
    `ai (rain)` for `ai as in rain`.
    """
    text = " \n ".join(" ".join(line.split()) for line in text.split("\n")).strip()
    text = re.sub(r"(?<=[A-Za-z]) ?[_–—‐‑] ?(?=[A-Za-z]\b)", "-", text)
    text = re.sub(r"\(\s*([A-Za-z']+(?:(?:\s*,\s*|\s+and\s+)[A-Za-z']+)*)\s*\)", _in_brackets, text)
    # a sound between slashes is put back when the rest has been taken apart
    said = [f"{m[1]} /{m[2]}/" for m in IN_SLASHES.finditer(text)]
    places = iter(range(len(said)))
    text = IN_SLASHES.sub(lambda _: f" \0{next(places)}\0 ", text)
    parts: list[str] = []
    for part in (" ".join(p.split()) for p in re.split(r"[,;\n/|]", text)):
        if part.startswith("at word ") and parts:
            # `o as in go, at word end` is one item
            parts[-1] += f", {part}"
        elif " " in part and not re.search(r"\bas in\b|\bsyllables?\b", part):
            parts += part.split()
        elif part:
            parts.append(part)
    parts = [said[int(p[1:-1])] if p[:1] == "\0" else p for p in parts]
    return list(dict.fromkeys(map(_small, parts)))


def _in_brackets(match: re.Match[str]) -> str:
    """`(rain)` or `(moon, book)` as the words that name a sound."""
    return " as in " + " and ".join(re.split(r"\s*,\s*|\s+and\s+", match[1]))


def _small(item: str) -> str:
    """A grapheme that is written with a capital (S, Sh) in small letters, and Ss as s; structures (CVC) stay as they are."""
    name, space, rest = item.partition(" ")
    if len(name) == 2 and name[0].isupper() and name[0].lower() == name[1]:
        name = name[0]
    if re.fullmatch(r"[CV]{2,}", name) or not (name[:1].isupper() and name.lower() in inventory().by_grapheme):
        return item
    return name.lower() + space + rest


def _statements(rows: Iterable[Row], accent: str, once: Counter[str], problems: list[Problem]) -> list[_Statement]:
    found = []
    for row in rows:
        given = [_widened(name, accent, once) for name in _items(row.items.text)]
        names = [name for name in (_by_sound(name, row.items, accent, problems) for name in given) if name]
        words = re.findall(r"[^\s,;/&+]+", row.words.text)
        structures = [n for n in names if re.fullmatch(r"[CV]{2,}|\d+ syllables?", n)]
        names = [n for n in names if n not in structures]
        if structures:
            found.append(_Statement("structure", tuple(structures), row.items))
        for name, own in _with_their_words(names, words, row.words, accent, problems):
            name = _with_words(name, own, accent, once[name] > 1) if own else name
            found.append(_Statement("teach", (name,), row.items, row.words))
        tricky = tuple(
            w if w == "I" else w.lower() if w.isupper() else w for w in re.findall(r"[^\s,;/]+", row.tricky.text)
        )
        if tricky:
            found.append(_Statement("tricky", tricky, row.tricky))
    return found


def _widened(name: str, accent: str, once: Counter[str]) -> str:
    """`ew (new)` as `ew`, where that is one lesson for both its sounds (new, grew); a grapheme that stands in two rows stays apart."""
    grapheme, as_in, word = name.partition(" as in ")
    rows = inventory().by_grapheme.get(grapheme, [])
    alone = [c for c in meanings.choices(grapheme, accent) if c.bare == "yes"]
    if not as_in or len(alone) < 2 or any(c.bare == "ask" for c in rows):
        return name
    if sum(times for other, times in once.items() if other.partition(" as in ")[0] == grapheme) > 1:
        return name
    named = meanings.as_in(grapheme, word.lower(), lexicon(lexicon_of(accent)).readings(word.lower()), accent).sounds
    said = {meanings.projected(grapheme, sound, accent) for sound in named}
    return grapheme if said and said <= {meanings.projected(grapheme, c.sound, accent) for c in alone} else name


def _by_sound(name: str, piece: Piece, accent: str, problems: list[Problem]) -> str:
    """`s /z/` as `s as in is`; "" for what names no sound, which is then reported."""
    grapheme, slash, said = name.partition(" /")
    if slash:
        wanted = plain_ipa(said.rstrip("/"))
        known = meanings.choices(grapheme.lower(), accent)
        for c in known:
            if plain_ipa("".join(meanings.projected(grapheme.lower(), c.sound, accent).split())) == wanted:
                return f"{grapheme.lower()} as in {c.key_word}"
        what = f"`{grapheme}` is never said /{said} in this accent." if known else f"`{grapheme}` is no known grapheme."
        options = ", ".join(f"{grapheme.lower()} ({c.key_word})" for c in known[:6])
        problems.append(piece.problem(what, f"Name the sound by a word: {options}." if options else "", grapheme))
        return ""
    grapheme, as_in, word = name.partition(" as in ")
    if as_in and word in LENGTHS and meanings.choices(grapheme, accent):
        options = " or ".join(f"{grapheme} ({c.key_word})" for c in meanings.choices(grapheme, accent)[:4])
        what = f"`{grapheme} ({word})` names no sound: what stands in brackets is a word with it."
        problems.append(piece.problem(what, f"Write {options}.", word))
        return ""
    return name


def _with_their_words(
    names: Sequence[str], words: Sequence[str], piece: Piece, accent: str, problems: list[Problem]
) -> list[tuple[str, list[str]]]:
    """Items with their example words: all words for a single item, one each where they fit in turn, else each word for the
    longest item that it holds. A word that holds none is reported."""
    if len(names) <= 1 or not words:
        return [(name, list(words)) for name in names]
    held = [[n for n, name in enumerate(names) if _holds(word, name, accent)] for word in words]
    if len(names) == len(words) and all(n in own for n, own in enumerate(held)):
        return [(name, [word]) for name, word in zip(names, words)]
    own_words: list[list[str]] = [[] for _ in names]
    for word, own in zip(words, held):
        if own:
            own_words[max(own, key=lambda n: len(names[n]))].append(word)
        else:
            what = f"The example word `{word}` holds none of the items beside it."
            problems.append(piece.problem(what, "Write a word with one of them, or take it out.", word))
    return list(zip(names, own_words))


def _holds(word: str, name: str, accent: str) -> bool:
    """Does a word show an item: a grapheme of it, or what else is named, by its letters?"""
    grapheme = name.partition(" as in ")[0]
    readings = lexicon(lexicon_of(accent)).readings(word.lower())
    if readings and grapheme in inventory().by_grapheme:
        return bool(meanings.as_in(grapheme, word.lower(), readings, accent).sounds)
    first, _, last = grapheme.strip("-").lower().partition("-")
    at = word.lower().find(first)
    return at >= 0 and last in word.lower()[at + len(first) :]


def _with_words(name: str, words: Sequence[str], accent: str, again: bool) -> str:
    """A grapheme with its example words, where they say more than its name: where the name alone is not enough, where the
    word has another sound than the name alone would teach, or where the grapheme stands in several rows."""
    rows = inventory().by_grapheme.get(name)
    if not rows or " as in " in name:
        return name
    full = f"{name} as in " + " and ".join(words)
    asked = len([c for c in meanings.choices(name, accent) if c.bare == "ask"]) > 1
    alone = {meanings.projected(name, c.sound, accent) for c in rows if c.bare != "no"}
    if asked or again or not alone:
        return full
    for word in words:
        readings = lexicon(lexicon_of(accent)).readings(word.lower())
        named = meanings.as_in(name, word.lower(), readings, accent)
        if not named.clear or not named.sounds or {meanings.projected(name, s, accent) for s in named.sounds} - alone:
            return full
    return name


def _written(
    title: str, accent: str, steps: Sequence[tuple[int, str, Sequence[_Statement]]]
) -> tuple[str, dict[int, _Statement]]:
    """One statement a line, and which statement stands in which line."""
    lines = [*_head(title, accent)]
    origin: dict[int, _Statement] = {}
    for number, name, statements in steps:
        lines.append(_step(number, name))
        for s in statements:
            lines.append(f"  {s.keyword} {', '.join(s.parts)}")
            origin[len(lines)] = s
    return "\n".join(lines) + "\n", origin


def _joined(title: str, accent: str, steps: Sequence[tuple[int, str, Sequence[_Statement]]]) -> str:
    """The file as people want it: the items of a step side by side."""
    lines = [*_head(title, accent)]
    for number, name, statements in steps:
        lines.append(_step(number, name))
        for keyword in ("structure", "teach", "tricky"):
            parts = [p for s in statements if s.keyword == keyword for p in s.parts]
            line = ""
            for part in parts:
                # what follows a place needs a semicolon
                separator = "; " if ", at word" in line.rpartition(";")[2] else ", "
                if line and len(line) + len(part) > ROOM:
                    lines.append(line)
                    line = ""
                line = f"{line}{separator}{part}" if line else f"  {keyword} {part}"
            if line:
                lines.append(line)
    return "\n".join(lines) + "\n"


def _head(title: str, accent: str) -> tuple[str, ...]:
    return (f'progression "{title}"', f"accent {accent}", "")


def _step(number: int, name: str) -> str:
    return f'step {number} "{name}"' if name else f"step {number}"


def _at_its_piece(problem: Problem, statement: _Statement | None, exact: bool) -> Problem:
    """A problem of the written line, told at the cell or line it came from."""
    if statement is None:
        return problem
    if not exact:
        return replace(statement.piece.problem(problem.what, problem.todo), code=problem.code)
    token = problem.excerpt[problem.column - 1 : problem.column - 1 + problem.width]
    before = problem.excerpt[: problem.column - 1]
    piece = statement.words if " as in " in before and token in statement.words.text else statement.piece
    return replace(piece.problem(problem.what, problem.todo, token), code=problem.code)
