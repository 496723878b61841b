"""Kinds of input for the benchmark of growth: configurations, lists and sheets."""

from __future__ import annotations

from pathlib import Path

from tests.benchmarks.growth_kinds import counted, kind, repeated

# -- decodecheck.toml ---------------------------------------------------------------------------------------------------


def configured(folder: Path, body: str, path: str = "step-3/tin.txt") -> list[str]:
    """The arguments that check a text beside a decodecheck.toml."""
    (folder / path).parent.mkdir(parents=True, exist_ok=True)
    (folder / path).write_text("tin\n", encoding="utf-8")
    (folder / "own.progression").write_text("step 3\n  teach t, i, n\n", encoding="utf-8")
    (folder / "decodecheck.toml").write_text('progression = "own.progression"\n' + body, encoding="utf-8")
    return ["check", str(folder / path)]


@kind
def toml_groups(folder: Path, size: int) -> list[str]:
    return configured(folder, "[groups]\n" + counted('g{n} = "3"\n', size))


@kind
def toml_texts(folder: Path, size: int) -> list[str]:
    return configured(folder, counted('[[texts]]\nfiles = "a{n}/*.txt"\nstep = 3\n', size))


@kind
def toml_texts_without_step(folder: Path, size: int) -> list[str]:
    return configured(folder, counted('[[texts]]\nfiles = "a{n}/*.txt"\n', size))


@kind
def toml_settled(folder: Path, size: int) -> list[str]:
    return configured(folder, counted('[[settled]]\nword = "read{n}"\nsense = "past"\nwrong = 3\n', size))


@kind
def toml_unknown_keys(folder: Path, size: int) -> list[str]:
    return configured(folder, counted("k{n} = 3\n", size))


@kind
def toml_unknown_keys_of_texts(folder: Path, size: int) -> list[str]:
    return configured(folder, '[[texts]]\nfiles = "*"\nstep = 3\n' + counted("k{n} = 3\n", size))


@kind
def toml_dotted_key(folder: Path, size: int) -> list[str]:
    return configured(folder, repeated("a.", size) + "b = 3\n")


@kind
def toml_dotted_table(folder: Path, size: int) -> list[str]:
    return configured(folder, "[" + repeated("a.", size) + "b]\nc = 3\n")


@kind
def toml_dotted_keys(folder: Path, size: int) -> list[str]:
    return configured(folder, counted("a.b.c.k{n} = 3\n", size))


@kind
def toml_escapes(folder: Path, size: int) -> list[str]:
    return configured(folder, 'step = "' + repeated("\\u0033", size) + '"\n')


@kind
def toml_brackets(folder: Path, size: int) -> list[str]:
    return configured(folder, "step = " + "[" * size + "\n")


@kind
def toml_quotation_marks(folder: Path, size: int) -> list[str]:
    return configured(folder, "step = " + repeated('\\"', size) + "\n")


@kind
def toml_blanks(folder: Path, size: int) -> list[str]:
    return configured(folder, "step" + " " * size + "x\n")


@kind
def toml_key_twice(folder: Path, size: int) -> list[str]:
    return configured(folder, counted("k{n} = 3\n", size) + "k0 = 4\n")


def patterned(folder: Path, pattern: str) -> list[str]:
    """A text deep in folders against a pattern that does not fit it."""
    deep = "/".join(["3aaaaaaaaaaaaaaaaaaa"] * 12)
    return configured(folder, f'[[texts]]\nfiles = "{pattern}"\nstep = 3\n', f"{deep}/{'3a' * 100}.txt")


@kind
def toml_pattern_of_stars(folder: Path, size: int) -> list[str]:
    return patterned(folder, "**/" + repeated("*a", size) + "b")


@kind
def toml_pattern_of_folders(folder: Path, size: int) -> list[str]:
    return patterned(folder, repeated("**/", size) + "b")


@kind
def toml_pattern_of_double_stars(folder: Path, size: int) -> list[str]:
    return patterned(folder, repeated("**a", size) + "b")


@kind
def toml_pattern_of_steps(folder: Path, size: int) -> list[str]:
    deep = "/".join(["3333333333333333"] * 12)
    pattern = repeated("{step}*", size) + "b"
    return configured(folder, f'[[texts]]\nfiles = "**/{pattern}"\n', f"{deep}/{'3' * 200}.txt")


# -- lists and sheets ---------------------------------------------------------------------------------------------------


def started(folder: Path, name: str, body: str) -> list[str]:
    """The arguments that begin a progression from a list or a sheet."""
    (folder / name).write_text(body, encoding="utf-8")
    (folder / "new.progression").unlink(missing_ok=True)
    return ["progression", "new", str(folder / "new.progression"), "--from", str(folder / name)]


HEADER = "step,item,example word,tricky\n"


@kind
def list_of_blanks(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", "p" + " " * size + "e\n")


@kind
def list_of_underscores(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", "p" + " _" * (size // 2) + "\n")


@kind
def list_of_brackets(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", "oo " + "(moon, " * (size // 7) + "\n")


@kind
def list_of_words_in_brackets(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", "oo (" + "moon, " * (size // 6) + "spoon\n")


@kind
def list_of_unknown_items(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", counted("z{w}x\n", size))


@kind
def list_that_repeats(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", repeated("ai\n", size))


@kind
def list_of_weeks(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", counted("Week {n}: p\n", size))


@kind
def list_of_tricky_words(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", "Week 1: p\n" + counted("tricky: {w}\n", size))


@kind
def list_in_one_line(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.txt", counted("z{w}x ", size))


@kind
def sheet_of_blanks(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.csv", HEADER + "1,p" + " " * size + "e,,\n")


@kind
def sheet_of_rows_that_repeat(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.csv", HEADER + repeated("1,ai,rain,\n", size))


@kind
def sheet_of_rows_that_repeat_elsewhere(folder: Path, size: int) -> list[str]:
    return started(
        folder, "plan.csv", HEADER + "".join(f"{n % 9000 + 1},ai,rain,\n" for n in range(max(1, size // 14)))
    )


@kind
def sheet_of_unknown_rows(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.csv", HEADER + counted("1,z{w}x,,\n", size))


@kind
def sheet_of_tricky_words(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.csv", HEADER + "1,p,,\n" + counted(",,,{w}\n", size))


@kind
def sheet_of_one_row(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.csv", HEADER + "1,p" + "," * size + "\n")


@kind
def sheet_of_lines_in_a_cell(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.csv", HEADER + '1,"' + counted("z{w}x\n", size) + '",,\n')


@kind
def sheet_of_example_words(folder: Path, size: int) -> list[str]:
    return started(folder, "plan.csv", HEADER + "1,ai," + repeated("rain ", size) + ",\n")
