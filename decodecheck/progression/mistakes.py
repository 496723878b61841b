"""Name a mistake of form: what is wrong in a line that the grammar refuses, and what to write instead.

A table of small wrong lines, each with its message; lark finds the one whose parser state is that of the user's line.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from lark import Lark, UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from decodecheck.errors import Problem, nearest

KEYWORDS = {
    "progression": 'progression "Harbour Lane order of teaching"',
    "accent": "accent southern-british",
    "include": 'include "autumn.progression"',
    "step": 'step 3 "after half term"',
    "teach": "teach p, ow as in grow, a-e, -ing",
    "together": "together nk, ture",
    "structure": "structure CCVC, 2 syllables",
    "tricky": "tricky said, don't, Mr",
    "capitals": "capitals from step 6",
    "doubled": "doubled letters from step 4",
    "allow": "allow names Tilda, Mr Pike",
    "skip": "skip all names",
    "weakened": "weakened vowels exact",
    "word": "word Niamh = n + ia /iː/ + mh /v/",
}
"""Every keyword that opens a statement, with an example."""

OPENINGS = {
    "capitals": "capitals from step",
    "doubled": "doubled letters from step",
    "skip": "skip all names",
    "weakened": "weakened vowels exact",
}
"""Statements that open with more than a keyword."""

COMMAS = (
    "There is nothing between two commas, or after the last one.",
    "Take the comma out, or write what is missing.",
)
QUOTED = ("This is written without quotation marks.", "Take the quotation marks out.")
DIGITS = ("The number of a step has at most four digits.", "Write for instance `step 3`.")
AS_IN = ("`as in` needs a word.", "Write for instance `ow as in grow`.")
PLACE = ("A place is `at word start` or `at word end`.", "Write for instance `o as in go, at word end`.")
ENDS = ("This statement ends here.", "Take out what follows.")
NO_STRUCTURE = ("That is no word structure.", "Write consonants as C and vowels as V (CVC, CCVC), or `2 syllables`.")
EXAMPLES: Any = {
    ("The name is not in quotation marks.", 'Write it as "NAME".'): ["progression Harbour", "progression"],
    ("The name of the file is not in quotation marks.", 'Write it as "FILE".'): ["include a.progression", "include"],
    ("The quotation mark is not closed.", "End the text with a second quotation mark."): ['progression "Harbour', 'include "a', 'step 1 "autumn'],
    ("The title of a step is not in quotation marks.", 'Write it as "TITLE".'): ["step 3 autumn", "step 3 3", "step 3,"],
    ("A step needs a whole number.", "Write for instance `step 3`."): ["step", "step three", 'step "three"', "step -1", "step 1.5", "step 3a"],
    DIGITS: ["step 12345"],
    COMMAS: [
        "teach a,", "teach a,,b", "teach ,a", "tricky the,", "tricky the,,a", "tricky ,the", "together nk,", "together nk,,ng",
        "structure CVC,", "structure CVC,,CV", "allow names Tilda,", "allow names Tilda,,Omar", "allow sounds brrr,", "allow sounds brrr,,moo",
        "together ,nk", "structure ,CVC", "allow names ,Tilda", "allow sounds ,moo",
    ],
    AS_IN: ["teach ow as in", "teach ow as in,", "teach ow as in grow and", "teach ow as in grow and,"],
    ("Something stands between two items without a comma.", "Put a comma between items; the sound of a grapheme is named with `as in WORD`."): [
        "teach a b", "teach a as in cat b", "teach a as b", "teach a, at word end b", "teach a as in b, at word end c", "teach a as", "teach a and b", "teach a = b", "teach a + b", "teach a /b/",
    ],
    PLACE: ["teach a at word", "teach a, at word", "teach a at the word end", "teach a, at word middle", "teach a as in b, at the end", "teach a as in b at start"],
    QUOTED: [
        'teach "p"', 'teach a "b"', 'teach ""', 'tricky "the"', 'tricky the "a"', 'tricky ""', 'together "nk"', 'together ""',
        'structure "CVC"', 'structure ""', 'allow names "Tilda"', 'allow names ""', 'allow sounds "moo"', 'allow sounds ""',
        'accent ""', 'accent "scottish"', 'capitals from step ""', 'capitals from step "6"', 'doubled letters from step ""',
    ],
    ("Something stands between two structures without a comma.", "Put a comma between structures."): ["structure CVC CCVC", "structure 2 syllables CVC"],
    ("Something stands between two words without a comma.", "Put a comma between words."): ["tricky the a", "together nk ng", "allow sounds brrr moo", "tricky the = a", "tricky the + a", "tricky the /a/"],
    ("This statement names nothing.", "Write what is meant after it."): ["teach", "tricky", "together", "structure", "allow names", "allow sounds", "accent"],
    NO_STRUCTURE: [
        "structure cvc", "structure CVX", "structure 2", "structure two syllables", "structure 2 CVC", "structure 2,",
    ],
    ("An accent is one word.", "Write for instance `accent southern-british`."): ["accent southern british", "accent a, b"],
    ("This statement needs a whole number at its end and nothing after it.", ""): [
        "capitals from step", "capitals from step six", "capitals from step 6 7", "doubled letters from step", "doubled letters from step x", "doubled letters from step 4 5",
    ],
    ENDS: [
        "skip all names a", "weakened vowels exact a", 'progression "a" b', 'include "a" b', 'step 1 "a" b', 'skip all names "a"',
        'progression "a""', 'include "a""', 'step 1 "a""',
    ],
    ("A pinned reading needs the word, an equals sign and its graphemes.", "Write for instance `word Niamh = n + ia /iː/ + mh /v/`."): [
        "word", "word Niamh", "word Niamh n", "word Niamh =", "word Niamh = n +", "word Niamh = n ia", "word Niamh = n /n", "word Niamh = n, ia", "word Niamh = n /n/ /a/",
        "word = n", "word Niamh = + n", "word Niamh = n + + a", "word Niamh + n", "word Niamh = n = a",
    ],
}  # fmt: skip
"""(What is wrong, what to do) with lines that go wrong that way."""


_LISTS = {"teach": "z", "tricky": "z", "together": "nk", "structure": "CV", "allow names": "Z", "allow sounds": "z"}


@cache
def _examples() -> Any:
    """The examples, those of lists also with another item before them: lark tells the states apart."""
    found: dict[tuple[str, str], list[str]] = {}
    for key, lines in EXAMPLES.items():
        if key in (DIGITS, QUOTED, PLACE):
            continue  # found without lark, which would take other lines for them
        found[key] = list(lines)
        for line in lines:
            for opening, item in _LISTS.items():
                rest = line.removeprefix(opening + " ")
                if rest != line:
                    found[key] += [f"{opening} {item}, {rest}", f"{opening} {item}, {item}, {rest}"]
    return found


def explain_mistake(parser: Lark, path: str, number: int, line: str, body: str, error: UnexpectedInput) -> Problem:
    """The problem for a line that the grammar refuses. The place lies inside the line."""
    first = body.split()[0]
    column = body.index(first) + 1

    def problem(what: str, todo: str, at: int, width: int = 1) -> Problem:
        return Problem(path, what, todo, number, at, line, width)

    colon = _COLON.match(body)
    if colon:
        opening = " ".join(colon[1].split())
        example = "allow sounds brrr, moo" if opening == "allow sounds" else KEYWORDS[opening.split()[0]]
        return problem(
            f"decodecheck does not know a line that starts with `{opening}:`.",
            f"Did you mean `{opening}`" + (f", as in `{example}`?" if example != opening else "?"),
            column,
            colon.end() - colon.start(1),
        )
    bare = first.strip('",;=+/')
    if bare not in KEYWORDS:
        close = nearest(bare.lower(), list(KEYWORDS), most=1)
        todo = (
            f"Did you mean `{close[0]}`, as in `{KEYWORDS[close[0]]}`?"
            if close
            else "A line opens with one of: " + ", ".join(KEYWORDS) + "."
        )
        return problem(f"decodecheck does not know a line that starts with `{first}`.", todo, column, len(first))
    at = _column(error, body)
    digits = re.match(r"\s*step\s+(\d{5,})\b", body)
    if digits:
        return problem(*DIGITS, digits.start(1) + 1)
    example = f"Write for instance `{KEYWORDS[bare]}`."
    if bare in OPENINGS and not body.strip().startswith(OPENINGS[bare]):
        return problem(f"A line with `{bare}` reads `{OPENINGS[bare]}`.", example, column, len(first))
    if bare == "allow" and not body.strip().startswith(("allow names", "allow sounds")):
        return problem("`allow` is followed by `names` or `sounds`.", example, column, len(first))
    second = _second_statement(body, at, column)
    if second:
        name, start = second
        what = f"`{name}` opens a statement of its own."
        return problem(what, "Put it on a line of its own; a line holds one statement.", start, len(name))
    quoted = _quotation(bare, body, at)
    if quoted:
        return problem(*quoted)
    place = _place(body, at) if bare == "teach" else None
    if place:
        return problem(*place)
    found = error.match_examples(parser.parse, _examples(), use_accepts=True)
    beside = _beside(body, at) if bare in _LISTED and found is None else None
    if beside:
        return problem(
            f"There is no comma between `{beside[0]}` and `{beside[1]}`.", "Put one there.", at, len(beside[1])
        )
    if bare == "structure" and found == COMMAS and body[at - 1] not in ",;" and at < len(body.rstrip()):
        found = NO_STRUCTURE  # lark tells these two states apart only by a token, and there is none
    if found and not found[1]:
        found = (found[0], example)
    what, todo = found or (
        "This line cannot be read from here on.",
        f"A line with `{bare}` looks like this: `{KEYWORDS[bare]}`",
    )
    return problem(what, todo, at)


_OPENED = (*OPENINGS.values(), "allow names", "allow sounds", *(word for word in KEYWORDS if word != "allow"))
_COLON = re.compile(rf"\s*({'|'.join(_OPENED)})\s*:".replace(" ", r"\s+"))
"""A statement with a colon after what opens it."""
_NAMED = re.compile(r'\s*(?:progression|include|step\s+\d+)\s*"[^"]+"\s*(?=")')
"""A statement that is whole, and before a quotation mark that is too many."""
_LISTED = ("teach", "tricky", "together", "structure", "allow")
_NUMBERED = ("capitals", "doubled")
"""Statements that have no quotation marks at all: those that list something, and those that end in a number."""


_STATEMENT = re.compile(
    r"(?:(teach|tricky|together|structure)\s+[^\s,;=]|(step)\s+\d|(allow\s+(?:names|sounds))\s|(capitals)\s+from\b"
    r"|(doubled)\s+letters\b|(skip)\s+all\b|(weakened)\s+vowels\b|(include|progression)\s+[\"“]|(word)\s+\S+\s*=|(accent)\s+\w+-\w)"
)
"""What opens a statement, wherever it stands, with enough behind it to be meant so."""
_LAST_WORD = re.compile(r"[^\s,;]+")


def _second_statement(body: str, at: int, first: int) -> tuple[str, int] | None:
    """What opens a second statement where reading stopped, or in the word before, and its column; None where nothing does."""
    before = body[: at - 1].rstrip()
    start = max(before.rfind(sign) for sign in " \t,;") + 2 if before else 1
    for place in dict.fromkeys((at, start)):
        found = _STATEMENT.match(body, place - 1) if place > first else None
        if found and (place == 1 or body[place - 2] in " \t,;"):
            return next(name for name in found.groups() if name), place
    return None


def _beside(body: str, at: int) -> tuple[str, str] | None:
    """The two words between which a comma is missing where reading stopped; None where it is no word that stands there."""
    before, after = body[: at - 1], _LAST_WORD.match(body, at - 1)
    last = before.split()[-1:] if len(before) > len(before.rstrip()) else []
    if not after or not last or not re.match(r"[\w-]", after[0]) or not re.search(r"[\w'-]\Z", last[0]):
        return None
    if after[0] in ("as", "and", "at", "in") or last[0] in ("as", "and", "at", "in", *_LISTED, "names", "sounds"):
        return None
    return last[0].rpartition(",")[2].rpartition(";")[2], after[0]


def _quotation(bare: str, body: str, at: int) -> tuple[str, str, int] | None:
    """What is wrong with the quotation marks of a line, what to do, and the column; None where they are right."""
    whole = _NAMED.match(body)
    if whole:
        return *ENDS, whole.end() + 1
    before = body[: at - 1].split()[-1:]
    if body[at - 1] == '"' and (bare in _LISTED or before == ["accent"] or (bare in _NUMBERED and before == ["step"])):
        return *QUOTED, at
    if body.count('"') % 2:
        return "The quotation mark is not closed.", "End the text with a second quotation mark.", body.rindex('"') + 1
    if body[at - 1 : at + 1] == '""':
        if bare == "step":
            return (
                "The title of this step is empty.",
                "Write it between the quotation marks, or take them out.",
                at,
            )
        if bare in ("progression", "include"):
            name = "FILE" if bare == "include" else "NAME"
            return "The name is empty.", f'Write it between the quotation marks: "{name}".', at
    if bare == "step" and '"' not in body and re.match(r"\s*step\s+\d+\s+\D", body):
        return "The title of a step is not in quotation marks.", 'Write it as "TITLE".', at
    return None


def _place(body: str, at: int) -> tuple[str, str, int, int] | None:
    """What is wrong where reading stopped at an `at` that was to open a place, or at the word after it; else None."""
    start = at
    if not re.match(r"at\b", body[at - 1 :]):
        before = re.search(r"(?<![^\s,;])at\s+\Z", body[: at - 1])
        if not before:
            return None
        start = before.start() + 1
    return (*(AS_IN if body[: start - 1].split()[-1] in ("in", "and") else PLACE), start, 2)


def _column(error: UnexpectedInput, body: str) -> int:
    """The column where reading stopped; lark has none at the end of the input."""
    end = len(body.rstrip())
    if isinstance(error, UnexpectedToken) and error.token.type == "$END":
        return max(1, end)
    column = getattr(error, "column", -1)
    if isinstance(error, UnexpectedCharacters) and column == -1:
        return max(1, end)
    return min(max(1, int(column)), max(1, end))
