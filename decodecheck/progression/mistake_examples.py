"""Small lines that are wrong, each with what is said of it. Those that any statement may have are made of the table of statements."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

from decodecheck.progression.statements import KINDS, Follows, Kind

LISTS = tuple(kind for kind in KINDS if kind.lists)


def _of(follows: Follows) -> tuple[Kind, ...]:
    return tuple(kind for kind in KINDS if kind.follows is follows)


def _each(kinds: Sequence[Kind], *lines: str) -> list[str]:
    """Each line for each of the statements, with what opens it for {o} and an item for {a}."""
    return [line.format(o=kind.opening, a=kind.item) for kind in kinds for line in lines]


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
EXAMPLES: dict[tuple[str, str], list[str]] = {
    ("The name is not in quotation marks.", 'Write it as "NAME".'): ["progression Harbour", "progression"],
    ("The name of the file is not in quotation marks.", 'Write it as "FILE".'): ["include a.progression", "include"],
    ("The quotation mark is not closed.", "End the text with a second quotation mark."): ['progression "Harbour', 'include "a', 'step 1 "autumn'],
    ("The title of a step is not in quotation marks.", 'Write it as "TITLE".'): ["step 3 autumn", "step 3 3", "step 3,"],
    ("A step needs a whole number.", "Write for instance `step 3`."): ["step", "step three", 'step "three"', "step -1", "step 1.5", "step 3a"],
    DIGITS: ["step 12345"],
    COMMAS: _each(LISTS, "{o} {a},", "{o} {a},,{a}", "{o} ,{a}"),
    AS_IN: ["teach ow as in", "teach ow as in,", "teach ow as in grow and", "teach ow as in grow and,"],
    ("Something stands between two items without a comma.", "Put a comma between items; the sound of a grapheme is named with `as in WORD`."): [
        "teach a b", "teach a as in cat b", "teach a as b", "teach a, at word end b", "teach a as in b, at word end c", "teach a as", "teach a and b", "teach a = b", "teach a + b", "teach a /b/",
    ],
    PLACE: ["teach a at word", "teach a, at word", "teach a at the word end", "teach a, at word middle", "teach a as in b, at the end", "teach a as in b at start"],
    QUOTED: [
        *_each(LISTS, '{o} "{a}"', '{o} {a} "{a}"', '{o} ""'), *_each(_of(Follows.NUMBER), '{o} ""', '{o} "6"'),
        'accent ""', 'accent "scottish"',
    ],
    ("Something stands between two structures without a comma.", "Put a comma between structures."): ["structure CVC CCVC", "structure 2 syllables CVC"],
    ("Something stands between two words without a comma.", "Put a comma between words."): _each(_of(Follows.WORDS), "{o} {a} {a}", "{o} {a} = a", "{o} {a} + a", "{o} {a} /a/"),
    ("This statement names nothing.", "Write what is meant after it."): ["accent", *_each(LISTS, "{o}")],
    NO_STRUCTURE: [
        "structure cvc", "structure CVX", "structure 2", "structure two syllables", "structure 2 CVC", "structure 2,",
    ],
    ("An accent is one word.", "Write for instance `accent southern-british`."): ["accent southern british", "accent a, b"],
    ("This statement needs a whole number at its end and nothing after it.", ""): _each(_of(Follows.NUMBER), "{o}", "{o} six", "{o} 6 7"),
    ENDS: [
        *_each(_of(Follows.NOTHING), "{o} a", '{o} "a"'), 'progression "a" b', 'include "a" b', 'step 1 "a" b',
        'progression "a""', 'include "a""', 'step 1 "a""',
    ],
    ("A pinned reading needs the word, an equals sign and its graphemes.", "Write for instance `word Niamh = n + ia /iː/ + mh /v/`."): [
        "word", "word Niamh", "word Niamh n", "word Niamh =", "word Niamh = n +", "word Niamh = n ia", "word Niamh = n /n", "word Niamh = n, ia", "word Niamh = n /n/ /a/",
        "word = n", "word Niamh = + n", "word Niamh = n + + a", "word Niamh + n", "word Niamh = n = a",
    ],
}  # fmt: skip
"""(What is wrong, what to do) with lines that go wrong that way."""


@cache
def told_by_state() -> Any:
    """The examples that lark tells apart, those of lists also with another item before them: these are other states."""
    found: dict[tuple[str, str], list[str]] = {}
    for key, lines in EXAMPLES.items():
        if key in (DIGITS, QUOTED, PLACE):
            continue  # found without lark, which would take other lines for them
        found[key] = list(lines)
        for line in lines:
            for kind in LISTS:
                rest = line.removeprefix(kind.opening + " ")
                if rest != line:
                    items = f"{kind.opening} {kind.item}, "
                    found[key] += [items + rest, f"{items}{kind.item}, {rest}"]
    return found
