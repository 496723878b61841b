"""The tables of the parser: those of today's grammar, read the same as the grammar, and used for no other."""

from __future__ import annotations

from pathlib import Path

import pytest
from lark import Lark, UnexpectedInput

from decodecheck.progression import parser_tables, tabulate

LINES = {
    "start": [
        'progression "Harbour Lane order of teaching"', "accent scottish", 'include "autumn.progression"', 'step 3 "ferry"',
        "teach p, ow as in grow and town, a-e, -ing, o as in go, at word end", "together nk, ture", "structure CCVC, 2 syllables",
        "tricky said, don't, Mr", "capitals from step 6", "doubled letters from step 4", "allow names Tilda, Mr Pike",
        "allow sounds brrr", "skip all names", "weakened vowels exact", "word Niamh = n + ia /iː/ + mh /v/",
        "stepp 3", "step three", "teach", "teach p,", "teach p q", "teach ow as in", "structure CVX", "allow Tilda", "word Omar",
        'step 3 "ferry', "capitals", "", "£",
    ],
    "step_expression": [
        "14", "14 lag 2", "14 also igh as in light, ff", "14 except tricky said, was", "14 also structure CVC", "14 also",
        "fourteen", "14 lag two", "14 later",
    ],
}  # fmt: skip


def said(parser: Lark, line: str) -> tuple[object, ...]:
    """The tree with the columns of its tokens, or where and for want of what the line cannot be read."""
    try:
        tree = parser.parse(line)
    except UnexpectedInput as error:
        wanted = getattr(error, "accepts", None) or getattr(error, "allowed", None)
        return type(error), error.column, frozenset(wanted or ())
    tokens = [(t.type, str(t), t.column, t.end_column) for t in tree.scan_values(lambda _: True)]
    return tree, tokens


def test_tables_are_of_the_grammar() -> None:
    remedy = "The grammar or lark is another: run `python -m decodecheck.progression.tabulate`."
    assert tabulate.origin() == parser_tables.ORIGIN, remedy
    assert set(parser_tables.TABLES) == set(tabulate.STARTS)


@pytest.mark.parametrize(("start", "line"), [(start, line) for start, lines in LINES.items() for line in lines])
def test_tables_read_as_the_grammar_does(start: str, line: str) -> None:
    loaded = tabulate.loaded(start)
    assert loaded is not None
    assert said(loaded, line) == said(tabulate.built(start), line)


def test_other_tables_are_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    assert tabulate.loaded("teach") is None
    monkeypatch.setattr(tabulate, "grammar", lambda: "start: /x/")
    assert tabulate.loaded("start") is None


def test_tables_can_be_written_anew(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(tabulate, "TABLES", tmp_path / "parser_tables.py")
    assert tabulate.main() == 0
    written: dict[str, object] = {}
    exec((tmp_path / "parser_tables.py").read_text(encoding="utf-8"), written)
    assert written["ORIGIN"] == tabulate.origin()
    monkeypatch.setattr(parser_tables, "TABLES", written["TABLES"])
    again = tabulate.loaded("start")
    assert again is not None
    assert said(again, LINES["start"][4]) == said(tabulate.built("start"), LINES["start"][4])
