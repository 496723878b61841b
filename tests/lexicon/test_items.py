"""Items: each kind is read and written the same way, and nothing but their module knows how they are written."""

from __future__ import annotations

import ast
import copy
import pickle
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import decodecheck
from decodecheck.lexicon import items
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import tables

PACKAGE = Path(decodecheck.__file__).parent
MADE = {
    "gpc|ea|DRESS|m": Item.gpc("ea", ("DRESS",), "m"),
    "gpc|al|SCHWA+l|e": Item.gpc("al", ("SCHWA", "l"), "e"),
    "gpc|e||e": Item.gpc("e", (), "e"),
    "together|tion|sh.SCHWA.n": Item.together("tion", (("sh",), ("SCHWA",), ("n",))),
    "ending|-ed": Item.ending("-ed"),
    "shape|CCVC": Item.shape("CCVC"),
    "syllables|2": Item.syllables(2),
    "adjacent|s+t+r": Item.adjacent(("s", "t", "r")),
    "capital|d": Item.capital("d"),
    "tricky|said": Item.tricky("said"),
    "pattern|CVCVC": Item.pattern("CVCVC"),
    "single|ff|f": Item.single("ff", ("f",)),
    "unnamed|ce|s": Item.unnamed("ce", ("s",)),
    "letters|-s": Item.letters("-s"),
    "weak": items.WEAKENED,
    "plain-n": items.PLAIN_N,
    "always": items.ALWAYS,
    "irregular": items.IRREGULAR,
}


@pytest.mark.parametrize(("text", "made"), MADE.items())
def test_what_is_made_is_written_and_read(text: str, made: Item) -> None:
    assert str(made) == text
    assert Item(text) is made
    assert repr(made) == f"Item({text!r})"


def test_the_parts_of_an_item() -> None:
    silent, metal = MADE["gpc|e||e"], MADE["gpc|al|SCHWA+l|e"]
    assert (silent.kind, silent.grapheme, silent.sound, silent.place) == (items.GPC, "e", (), "e")
    assert metal.correspondence == ("al", ("SCHWA", "l"))
    assert metal.at("m") is Item("gpc|al|SCHWA+l|m")
    assert MADE["single|ff|f"].correspondence == ("ff", ("f",))
    assert MADE["together|tion|sh.SCHWA.n"].sounds == (("sh",), ("SCHWA",), ("n",))
    assert MADE["adjacent|s+t+r"].run == ("s", "t", "r")
    assert MADE["syllables|2"].number == 2
    assert (MADE["ending|-ed"].name, items.WEAKENED.name, MADE["ending|-ed"].place) == ("-ed", "", "")
    assert {text for text, item in MADE.items() if item.guard} == {
        "single|ff|f", "unnamed|ce|s", "letters|-s", "weak", "plain-n",
    }  # fmt: skip


def test_a_stem_leaves_the_place_out() -> None:
    assert len({Item.gpc("ea", ("DRESS",), place).stem for place in "sme"}) == 1
    assert Item.gpc("ea", ("DRESS",), "m").stem != Item.gpc("ea", ("FLEECE",), "m").stem


def test_what_an_item_has_not_is_refused() -> None:
    for text, name in (
        ("ending|-ed", "grapheme"),
        ("gpc|ea|DRESS|m", "sounds"),
        ("shape|CVC", "run"),
        ("weak", "number"),
    ):
        with pytest.raises(ValueError, match=re.escape(text)):
            getattr(Item(text), name)
    with pytest.raises(ValueError, match="ending"):
        Item("ending|-ed").at("e")


@pytest.mark.parametrize("text", ["", "gpc", "gpc|ea|DRESS", "gpc|ea|DRESS|m|m", "ending", "weak|e", "Gpc|ea|DRESS|m"])
def test_what_is_no_item_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is no item"):
        Item(text)


def test_an_item_is_a_value() -> None:
    item = MADE["gpc|ea|DRESS|m"]
    assert pickle.loads(pickle.dumps(item)) is item
    assert copy.deepcopy({item: 1}) == {item: 1}
    assert item != str(item)
    for name in ("kind", "place", "anything"):
        with pytest.raises(AttributeError):
            setattr(item, name, "x")
    assert sorted(MADE.values()) == [MADE[text] for text in sorted(MADE)]


def test_every_item_of_the_lexicon_is_put_together_from_its_parts() -> None:
    known = tables().items
    assert len(known) > 5000
    for item in known:
        match item.kind:
            case items.GPC:
                again = Item.gpc(item.grapheme, item.sound, item.place)
            case items.TOGETHER:
                again = Item.together(item.name, item.sounds)
            case items.SINGLE | items.UNNAMED:
                again = getattr(Item, item.kind)(*item.correspondence)
            case items.ADJACENT:
                again = Item.adjacent(item.run)
            case items.SYLLABLES:
                again = Item.syllables(item.number)
            case items.ENDING | items.LETTERS | items.SHAPE | items.PATTERN:
                again = getattr(Item, item.kind)(item.name)
            case _:
                again = {"": item}[item.name]
        assert again is item


def test_items_of_a_kind_are_all_of_them() -> None:
    for kind in {item.kind for item in tables().items if item.name}:
        assert list(tables().items_of(kind)) == [item for item in tables().items if item.kind == kind]


# -- nobody else knows --------------------------------------------------------------------------------------------------

KINDS = "gpc|together|ending|shape|syllables|adjacent|capital|tricky|pattern|single|unnamed|letters|weak|plain-n|always"
WRITTEN = re.compile(rf"(?:{KINDS})\|")
CUTTING = {"split", "rsplit", "partition", "rpartition"}
OTHERS = {
    "web/asked.py": "a sense that was settled, as a field of the page holds it",
    "phonics/inventory.py": "the key of a correspondence",
    "phonics/notes.py": "the key of a correspondence",
    "lexicon/compounds.py": "pronunciations of a cell",
    "lexicon/predict.py": "the symbols of the model",
    "lexicon/store.py": "the label of a sense",
    "lexicon/compiling/analysed.py": "the key of a correspondence",
    "lexicon/compiling/overrides.py": "the key of a correspondence",
    "lexicon/compiling/schemas.py": "cells of the data files",
    "lexicon/compiling/vocabulary.py": "pronunciations of a cell",
    "lexicon/vector.py": "the label of a sense",
    "checking/context_rules.py": "the conditions of a rule",
}
"""Where a text is cut at its bars that is no item's."""


def faults(source: str, *, cuts: bool) -> Iterator[str]:
    """Lines of a module that put an item together or, where `cuts` are no others', take one apart."""
    tree = ast.parse(source)
    told = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}  # docstrings
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            if WRITTEN.match(node.value):
                yield f"{node.lineno}: {node.value!r} is written like an item"
        elif isinstance(node, ast.JoinedStr) and len(node.values) > 1:
            # f"{kind}|{name}", where the kind is not to be seen
            first, second = node.values[:2]
            bar = isinstance(second, ast.Constant) and str(second.value).startswith("|")
            kind = isinstance(first, ast.FormattedValue) and ast.unparse(first.value).rpartition(".")[2] == "kind"
            if bar and kind:
                yield f"{node.lineno}: {ast.unparse(node)} is put together like an item"
        elif isinstance(node, ast.Call) and not cuts and _cuts_at_bars(node):
            yield f"{node.lineno}: {ast.unparse(node)} takes an item apart"


def _cuts_at_bars(call: ast.Call) -> bool:
    at_bar = any(isinstance(a, ast.Constant) and a.value == "|" for a in call.args)
    return at_bar and isinstance(call.func, ast.Attribute) and call.func.attr in CUTTING


def test_only_one_module_knows_how_items_are_written() -> None:
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        name = path.relative_to(PACKAGE).as_posix()
        if name != "lexicon/items.py":
            found += [f"{name}:{f}" for f in faults(path.read_text(encoding="utf-8"), cuts=name in OTHERS)]
    assert not found


def test_nothing_is_excused_that_cuts_no_more() -> None:
    idle = [n for n in OTHERS if not list(faults((PACKAGE / n).read_text(encoding="utf-8"), cuts=False))]
    assert not idle


@pytest.mark.parametrize(
    "line",
    [
        'x = f"gpc|{grapheme}|{sound}|m"',
        'x = "together|nk|"',
        "x = f'{kind}|{name}'",
        'x = f"{item.kind}|{name}"',
        'kind, *rest = item.split("|")',
        'name = item.partition("|")[2]',
        'stem = item.rsplit("|", 1)[0]',
    ],
)
def test_a_module_that_knows_is_found(line: str) -> None:
    assert list(faults(line, cuts=False))


def test_the_kinds_are_those_that_there_are() -> None:
    assert {item.kind for item in (*tables().items, *MADE.values())} == {*KINDS.split("|"), "irregular"}
