"""The data files are without mistakes, and each kind of mistake in them is one message with file and line."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from decodecheck.checking import context_rules
from decodecheck.errors import UserError
from decodecheck.lexicon.compiling.compile import compile_lexicon
from decodecheck.lexicon.compiling.lint import lint
from decodecheck.lexicon.compiling.schemas import OPTIONS, SCHEMAS
from decodecheck.phonics import inventory
from decodecheck.resources import rules_folder


def test_the_data_files_hold_no_mistake() -> None:
    assert [p.text() for p in lint(rules_folder())] == []


def test_every_data_file_has_a_schema() -> None:
    assert {p.relative_to(rules_folder()).as_posix() for p in rules_folder().rglob("*.tsv")} == set(SCHEMAS)


def test_the_lint_knows_what_the_rules_may_ask_for() -> None:
    assert frozenset(OPTIONS) == context_rules.OPTIONS


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    shutil.copytree(rules_folder(), tmp_path / "rules")
    return tmp_path / "rules"


# (file, a whole row to be changed or "" to add one at the end, the new row, what is said of it).
# The source: mistakes that an editor of these files makes, those of the review of the loaders among them.
BAD = [
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAP\tcat\ty", "There is no cost."),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAPP\tcat\ty\t10", "The sound `TRAPP` has `TRAPP`, which is no code of sounds.tsv."),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a TRAP cat y 10", "One cell where the header names 7: are there spaces instead of tabs?"),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAP\tcat y\t10", "The bare `10` is none of: y, n, a."),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAP\tcat\tyes\t10", "The bare `yes` is none of: y, n, a."),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAP\tcat\ty\tten", "The cost `ten` is no number from 1 to 60."),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAP\tcat\ty\t10\tlast", "The place `last` is none of: final, late, ending."),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAP\tcat\ty\t10\t\t\tmore", "8 cells where the header names 7."),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tFACE\tcat\ty\t10", "`a FACE` stands in line"),
    ("inventory.tsv", "a\tTRAP\tcat\ty\t10", "a\tTRAP\tcat \ty\t10", "The key_word `cat ` has a blank at an end"),
    ("sounds.tsv", "", "ZZ\tvowl\tz\tz\tz\tz\t\tzoo", "The kind `vowl` is none of: vowel, consonant."),
    ("together.tsv", "nk\tn|ng k|k\tsink", "nk\tn|ng k|kk\tsink", "The correspondences `n|ng k|kk` has `k|kk`"),
    ("together.tsv", "nk\tn|ng k|k\tsink", "nq\tn|ng k|k\tsink", "`n|ng k|k` spells `nk`, not `nq`."),
    ("also_accepted.tsv", "al|THOUGHT\ta|THOUGHT l|l\twalk", "al|THOUGHT\ta|THOUGHT\twalk", "`al|THOUGHT` and `a|THOUGHT` do not have the same letters."),
    ("also_accepted.tsv", "al|THOUGHT\ta|THOUGHT l|l\twalk", "al|THOUGHT\ta|THOUGHT l|l\twok", "`wok` does not hold `al|THOUGHT`."),
    ("child/weights.tsv", "", "noun.toy\thalf\tToys.", "The weight `half` is not a number such as 0.5 or -0.25."),
    ("child/weights.tsv", "", "noun.toy\t0.5", "There is no why."),
    ("child/weights.tsv", "", "start\t0.5\tAgain.", "`start` stands in line"),
    ("child/categories.tsv", "", "zzz\tnoun.toy", "The category `noun.toy` has no weight in child/weights.tsv."),
    ("child/books.tsv", "", "zzz\t0\t1", "The count `0` is not a whole number."),
    ("meanings/synsets.tsv", "", "noun.toy\tkite:1:100:2", "The category `noun.toy` is none of: adj.all,"),
    ("meanings/synsets.tsv", "", "noun.food\tpie:1 tart:2", "The words `pie:1 tart:2` is not words such as shout:1:64:39"),
    ("meanings/synsets.tsv", "", "noun.food\tzzz:1:100:2\tfood", "The wider `food` is not sets such as shout:1."),
    ("meanings/irregular.tsv", "", "swam\tswim\tpast", "The ending `past` is none of: -s, -ed, -en, -er, -est."),
    ("meanings/irregular.tsv", "", "swam\tswim\t-ed", "`swam swim -ed` stands in line"),
    ("child/everyday.tsv", "", "Kite\tplay", "The word `Kite` is not a word in lower-case letters."),
    ("not_endings.tsv", "abby\t-y", "abby\t-yy", "The ending `-yy` is none of:"),
    ("not_endings.tsv", "abby\t-y", "Abby\t-y", "The word `Abby` is not a word in lower-case letters."),
    ("overrides.tsv", "", "gorge\tbritish\tg|g or|NORTH\twhy", "`g|g or|NORTH` spells `gor`, not `gorge`."),
    ("overrides.tsv", "", "gor\tbritsh\tg|g or|NORTH\twhy", "The accent `britsh` is none of: british, american, both."),
    ("overrides.tsv", "", "gor\tboth\tg|g or|NORT\twhy", "The segmentation `g|g or|NORT` has `NORT`, which is no code of sounds.tsv."),
    ("word_parts.tsv", "-ness\tn ə s", "ness\tn ə s", "The letters `ness` is not letters with a hyphen at one end."),
    ("word_parts.tsv", "-ness\tn ə s", "-ness\tn E s", "The pronunciations `n E s` has `E`, which is no sound of sounds.tsv."),
    ("unfit_words.tsv", "abc\tno word", "abc\tno-word", "The kind `no-word` is none of:"),
    ("word_classes.tsv", "able\tadjective", "able\tadjektive", "The class `adjektive` is none of:"),
    ("word_classes.tsv", "able\tadjective", "about\tadjective", "`about` stands in line"),
    ("confusable.tsv", "", "b\tqq\tshape\tsomebody", "The other `qq` is no grapheme of inventory.tsv."),
    ("confusable.tsv", "", "b\td\tlook\tsomebody", "The kind `look` is none of: shape, sound, both."),
    ("context/rules.tsv", "-1=let\tVERB+1 NOUN+1\t", "-1=let\tVERB5 NOUN+1\t", "The votes `VERB5 NOUN+1` has `VERB5`, which is not written like NOUN+3."),
    ("context/rules.tsv", "-1=let\tVERB+1 NOUN+1\t", "-1=let\tVERBS+5\t", "The votes `VERBS+5` has `VERBS+5`"),
    ("context/rules.tsv", "-1=let\tVERB+1 NOUN+1\t", "-1=prepositon\tVERB+5\t", "The where `-1=prepositon` has `prepositon`, which is no class of classes.tsv."),
    ("context/rules.tsv", "-1=let\tVERB+1 NOUN+1\t", "1=let\tVERB+5\t", "The where `1=let` has `1=let`, which is not written like -1=determiner."),
    ("context/cues.tsv", "", "rowed\toars\t4\tboat*", "`rowed` has no sense `oars`: its senses are oar, quarrel."),
    ("context/cues.tsv", "", "rowed\toar\tfour\tboat*", "The weight `four` is no number from 0.5 to 20."),
    ("context/cues.tsv", "", "rowed\toar\t4\t1:boat", "The words `1:boat` has `1:boat`, which is not written like boat* or +1:of."),
    ("context/classes.tsv", "", "modal", "One cell where the header names 2"),
    ("context/classes.tsv", "", "let\tlet", "`let` stands in line"),
    ("supplement/words.tsv", "", "zab\tword\tz ˈA b\tz ˈæ b\t", "The british `z ˈA b` has `A`, which is no sound of the british notation."),
    ("supplement/words.tsv", "", "zab\tverb\tz ˈæ b\tz ˈæ b\t", "The kind `verb` is none of: word, compound, sound."),
    ("supplement/words.tsv", "", "zab\tword\t\t\tnote", "`zab` has no pronunciation."),
    ("supplement/names.tsv", "", "zab\tname\tz ˈæ bb\tz ˈæ b\t", "The british `z ˈæ bb` has `bb`"),
    ("supplement/corrections.tsv", "", "zab\tnam\tz ˈæ b\tz ˈæ b\t", "The kind `nam` is none of: word, name, name-word, sound."),
    ("supplement/variants.tsv", "", "zab\tz ˈæ b |\tz ˈæ b\t", "The british `z ˈæ b |` has nothing before or after a |."),
    ("supplement/senses.tsv", "", "zab\tone\tNOUNS\tz ˈæ b\tz ˈæ b\tgloss", "The pos `NOUNS` has `NOUNS`, which is none of:"),
    ("supplement/senses.tsv", "", "zab\tone\tNOUN\tz ˈæ b\tz ˈæ b\tgloss\tyes", "The rare `yes` is none of: y."),
    ("frequency/zipf.tsv", "the\t7.73", "the\t77.3", "The zipf `77.3` is no number from 0 to 9."),
    ("pronunciations/british.tsv", "aback\t\tə b ˈæ k\tgold", "aback\tə b ˈæ k\tgold", "The pronunciation `gold` has `gold`"),
    ("accent_spellings.tsv", "", "scotish\ter\tNURSE\tɛ r", "The accent `scotish` is none of:"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "old", "new", "said"), BAD)
def test_a_bad_row_is_one_message(rules: Path, name: str, old: str, new: str, said: str) -> None:
    path = rules / name
    lines = path.read_text(encoding="utf-8").rstrip("\n").split("\n")
    number = next(n for n, line in enumerate(lines) if line.rstrip("\t") == old.rstrip("\t")) if old else len(lines)
    lines[number : number + 1] = [new]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    problems = lint(rules, name)
    assert len(problems) == 1, [p.text() for p in problems]
    assert problems[0].path == f"rules/{name}" and problems[0].what.startswith(said), problems[0].text()
    # a row that stands twice is told at the second of the two
    assert problems[0].line == number + 1 or "stands in line" in said
    assert problems[0].todo


@pytest.mark.parametrize("text", ["", "grapheme\tsound\n", "word\tending\textra\n"])
def test_a_file_without_its_columns_is_one_message(rules: Path, text: str) -> None:
    (rules / "not_endings.tsv").write_text(text, encoding="utf-8")
    (problem,) = lint(rules, "not_endings.tsv")
    assert (
        problem.what.startswith("The columns are")
        and problem.todo == "They have to be word, ending, with a tab between them."
    )


def test_a_file_that_is_not_utf8_is_one_message(rules: Path) -> None:
    (rules / "not_endings.tsv").write_bytes(b"word\tending\nab\xff\t-y\n")
    (problem,) = lint(rules, "not_endings.tsv")
    assert problem.what == "This is not UTF-8 (at byte 14)."


def test_the_compiler_refuses_data_with_mistakes(rules: Path, tmp_path: Path) -> None:
    with (rules / "overrides.tsv").open("a", encoding="utf-8") as file:
        file.write("gorge\tbritish\tg|g or|NORTH\twhy\n")
    with pytest.raises(UserError, match=r"rules/overrides.tsv:\d+: `g|g or|NORTH` spells"):
        compile_lexicon(rules, tmp_path / "compiled")
    assert not (tmp_path / "compiled").exists()


# The source: `?` stands for what an editor has just saved; a run of the program must name the line as well.
@pytest.mark.parametrize(("old", "new"), [("a\tTRAP\tcat\ty\t10", n) for _, o, n, _ in BAD[:6] if o])
def test_a_run_names_the_line_too(rules: Path, old: str, new: str, monkeypatch: pytest.MonkeyPatch) -> None:
    path = rules / "inventory.tsv"
    path.write_text(path.read_text(encoding="utf-8").replace(f"\n{old}\n", f"\n{new}\n"), encoding="utf-8")
    monkeypatch.setattr(inventory, "rules_folder", lambda: rules)
    inventory.inventory.cache_clear()
    try:
        with pytest.raises(UserError, match=r"inventory.tsv:\d+: "):
            inventory.inventory()
    finally:
        inventory.inventory.cache_clear()


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("-1=let\tVERB5\t", "'VERB5' is no vote"),
        ("-1=prepositon\tVERB+5\t", "'prepositon' is no class of words"),
        ("let\tVERB+5\t", "invalid literal"),
    ],
)
def test_a_run_names_the_line_of_a_context_rule(
    rules: Path, row: str, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with (rules / "context" / "rules.tsv").open("a", encoding="utf-8") as file:
        file.write(row + "\n")
    monkeypatch.setattr(context_rules, "rules_folder", lambda: rules)
    with pytest.raises(UserError, match=rf"rules.tsv:\d+: This row cannot be read: .*{said}"):
        context_rules.read_rules()
