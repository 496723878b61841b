"""The parser of the language, from its tables where these were made of today's grammar, else from the grammar itself.

    python -m decodecheck.progression.tabulate

writes `parser_tables.py` anew, after a change to `language.lark` or to lark. To build the tables takes ten times as long as to
load them. Tables of another grammar, or of another lark, are never used.
"""

from __future__ import annotations

import io
import pickle
import sys
from hashlib import sha256
from pathlib import Path
from typing import Any

import lark
from lark import Lark

STARTS = ("start", "step_expression")
"""The rules of the grammar that something is parsed by."""
OPTIONS: dict[str, Any] = {"parser": "lalr", "maybe_placeholders": False, "propagate_positions": False}
TABLES = Path(__file__).with_name("parser_tables.py")


def grammar() -> str:
    """The grammar of the language."""
    return Path(__file__).with_name("language.lark").read_text(encoding="utf-8")


def origin() -> str:
    """What tables are made of: they hold for the same grammar, options and version of lark alone."""
    made_of = f"{lark.__version__}\n{OPTIONS}\n{grammar()}"
    return sha256(made_of.encode()).hexdigest()


def built(start: str) -> Lark:
    """The parser of a rule, built from the grammar."""
    return Lark(grammar(), start=start, **OPTIONS)


def loaded(start: str) -> Lark | None:
    """The parser of a rule from its tables; None where there are none of today's grammar."""
    from decodecheck.progression import parser_tables

    if start not in parser_tables.TABLES or origin() != parser_tables.ORIGIN:
        return None
    return Lark.load(io.BytesIO(pickle.dumps(parser_tables.TABLES[start])))


def tables() -> dict[str, Any]:
    """The tables of every rule, as lark keeps them."""
    found = {}
    for start in STARTS:
        file = io.BytesIO()
        built(start).save(file)
        found[start] = pickle.loads(file.getvalue())
    return found


def module() -> str:
    """The text of `parser_tables.py`."""
    parts = [
        '"""Tables of the parser of `language.lark`, written by `python -m decodecheck.progression.tabulate`."""',
        "# fmt: off",
        "from typing import Any",
        f'ORIGIN = "{origin()}"\n"""What the tables are made of (`tabulate.origin`)."""',
        *(f"{start.upper()}: dict[str, Any] = \\\n{_lines(found)}" for start, found in tables().items()),
        "TABLES = {" + ", ".join(f'"{start}": {start.upper()}' for start in STARTS) + "}",
    ]
    return "\n\n".join(parts) + "\n"


def _lines(value: object) -> str:
    """A literal in lines of some length; it is broken only where a state, a terminal or a rule ends."""
    lines = [""]
    for piece in repr(value).split("}, "):
        if len(lines[-1]) + len(piece) > 110 and lines[-1]:
            lines.append("")
        lines[-1] += piece + "}, "
    return "\n".join(line.rstrip() for line in lines).removesuffix("},")


def main() -> int:
    """Write the tables."""
    TABLES.write_text(module(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
