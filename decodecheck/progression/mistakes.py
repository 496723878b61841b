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

COMMAS = (
    "There is nothing between two commas, or after the last one.",
    "Take the comma out, or write what is missing.",
)
NO_STRUCTURE = ("That is no word structure.", "Write consonants as C and vowels as V (CVC, CCVC), or `2 syllables`.")
EXAMPLES: Any = {
    ("The name is not in quotation marks.", 'Write it as "NAME".'): ["progression Harbour", "progression", "include a.progression", "include"],
    ("The quotation mark is not closed.", "End the text with a second quotation mark."): ['progression "Harbour', 'include "a', 'step 1 "autumn'],
    ("The title of a step is not in quotation marks.", 'Write it as "TITLE".'): ["step 3 autumn", "step 3 3", "step 3,"],
    ("A step needs a whole number.", "Write for instance `step 3`."): ["step", "step three", 'step "three"', "step -1", "step 1.5", "step 3a", "step 12345"],
    ("There is nothing between two commas, or after the last one.", "Take the comma out, or write what is missing."): [
        "teach a,", "teach a,,b", "teach ,a", "tricky the,", "tricky the,,a", "tricky ,the", "together nk,", "together nk,,ng",
        "structure CVC,", "structure CVC,,CV", "allow names Tilda,", "allow names Tilda,,Omar", "allow sounds brrr,", "allow sounds brrr,,moo",
        "together ,nk", "structure ,CVC", "allow names ,Tilda", "allow sounds ,moo",
    ],
    ("`as in` needs a word.", "Write for instance `ow as in grow`."): ["teach ow as in", "teach ow as in,", "teach ow as in grow and", "teach ow as in grow and,"],
    ("Something stands between two items without a comma.", "Put a comma between items; the sound of a grapheme is named with `as in WORD`."): [
        "teach a b", "teach a as in cat b", "teach a as b", "teach a, at word end b", "teach a as in b, at word end c", "teach a as", "teach a and b", "teach a = b", "teach a + b", 'teach a "b"', "teach a /b/",
    ],
    ("This is written without quotation marks.", "Take the quotation marks out."): [
        'teach "p"',
        'tricky "the"',
        'together "nk"',
        'structure "CVC"',
        'allow names "Tilda"',
        'allow sounds "moo"',
    ],
    ("Something stands between two structures without a comma.", "Put a comma between structures."): ["structure CVC CCVC", "structure 2 syllables CVC"],
    ("Something stands between two words without a comma.", "Put a comma between words."): ["tricky the a", "together nk ng", "allow sounds brrr moo", 'tricky the "a"', "tricky the = a", "tricky the + a", "tricky the /a/"],
    ("This statement names nothing.", "Write what is meant after it."): ["teach", "tricky", "together", "structure", "allow names", "allow sounds", "accent"],
    ("That is no word structure.", "Write consonants as C and vowels as V (CVC, CCVC), or `2 syllables`."): [
        "structure cvc", "structure CVX", "structure 2", "structure two syllables", "structure 2 CVC", "structure 2,",
    ],
    ("An accent is one word.", "Write for instance `accent southern-british`."): ["accent southern british", 'accent "southern-british"', "accent a, b"],
    ("This statement needs a whole number at its end and nothing after it.", ""): [
        "capitals from step", "capitals from step six", "capitals from step 6 7", "doubled letters from step", "doubled letters from step x", "doubled letters from step 4 5",
    ],
    ("This statement ends here.", "Take out what follows."): ["skip all names a", "weakened vowels exact a", 'progression "a" b', 'include "a" b', 'step 1 "a" b', 'skip all names "a"'],
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
    bare = first.strip('",;=+/')
    if bare not in KEYWORDS:
        close = nearest(bare.lower(), list(KEYWORDS), most=1)
        todo = (
            f"Did you mean `{close[0]}`, as in `{KEYWORDS[close[0]]}`?"
            if close
            else "A line opens with one of: " + ", ".join(KEYWORDS) + "."
        )
        return Problem(path, f"`{first}` opens no statement.", todo, number, column, line, len(first))
    at = _column(error, body)
    empty = body.find('""')
    if empty >= 0:
        name = "The title of this step is empty." if bare == "step" else "The name is empty."
        rest = (
            "Write it between the quotation marks, or take them out."
            if bare == "step"
            else 'Write it between the quotation marks: "NAME".'
        )
        return Problem(path, name, rest, number, empty + 1, line, 1)
    digits = re.match(r"\s*step\s+(\d{5,})\b", body)
    if digits:
        what = "The number of a step has at most four digits."
        return Problem(path, what, "Write for instance `step 3`.", number, digits.start(1) + 1, line, 1)
    second = {
        "capitals": "capitals from step",
        "doubled": "doubled letters from step",
        "skip": "skip all names",
        "weakened": "weakened vowels exact",
    }
    if bare in second and not body.strip().startswith(second[bare]):
        return Problem(
            path,
            f"A line with `{bare}` reads `{second[bare]}`.",
            f"Write for instance `{KEYWORDS[bare]}`.",
            number,
            column,
            line,
            len(first),
        )
    if bare == "allow" and not body.strip().startswith(("allow names", "allow sounds")):
        return Problem(
            path,
            "`allow` is followed by `names` or `sounds`.",
            f"Write for instance `{KEYWORDS[bare]}`.",
            number,
            column,
            line,
            len(first),
        )
    quoted = _quotation(bare, body, at)
    if quoted:
        return Problem(path, quoted[0], quoted[1], number, quoted[2], line, 1)
    found = error.match_examples(parser.parse, _examples(), use_accepts=True)
    if bare == "structure" and found == COMMAS and body[at - 1] not in ",;" and at < len(body.rstrip()):
        found = NO_STRUCTURE  # lark tells these two states apart only by a token, and there is none
    if found and not found[1]:
        found = (found[0], f"Write for instance `{KEYWORDS[bare]}`.")
    what, todo = found or (
        "This line cannot be read from here on.",
        f"A line with `{bare}` looks like this: `{KEYWORDS[bare]}`",
    )
    return Problem(path, what, todo, number, at, line, 1)


def _quotation(bare: str, body: str, at: int) -> tuple[str, str, int] | None:
    """What is wrong with the quotation marks of a line, what to do, and the column; None where they are right."""
    if body.count('"') % 2:
        return "The quotation mark is not closed.", "End the text with a second quotation mark.", body.rindex('"') + 1
    if bare == "step" and '"' not in body and re.match(r"\s*step\s+\d+\s+\D", body):
        return "The title of a step is not in quotation marks.", 'Write it as "TITLE".', at
    if bare in ("teach", "tricky", "together", "structure", "allow") and body[at - 1] == '"':
        return "This is written without quotation marks.", "Take the quotation marks out.", at
    return None


def _column(error: UnexpectedInput, body: str) -> int:
    """The column where reading stopped; lark has none at the end of the input."""
    end = len(body.rstrip())
    if isinstance(error, UnexpectedToken) and error.token.type == "$END":
        return max(1, end)
    column = getattr(error, "column", -1)
    if isinstance(error, UnexpectedCharacters) and column == -1:
        return max(1, end)
    return min(max(1, int(column)), max(1, end))
