"""How time grows with the size of the input: every kind of input that a stage could be slow on, at a quarter and at the whole.

    python -m tests.benchmarks.growth [KIND ...] [--bytes N]

Each measurement is a process of its own: it runs the command once on a tiny input of the kind, so that nothing has to be loaded
any more, and then on the real one. The exponent is that of the size by which the time grows: 1 is in step with the input, 2 is
four times the time for twice the input. What takes less than `FLOOR` seconds at the whole size has no exponent that means
anything, and passes. Exit code 1 where a limit is exceeded.
"""

from __future__ import annotations

import contextlib
import io
import math
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
HARBOUR = ROOT / "corpora_demo" / "harbour-lane.progression"
WHOLE = 1_000_000
LIMIT = 1.3
FLOOR = 0.4
PATIENCE = 240
"""Seconds after which a run counts as one that never ends."""
Kind = Callable[[Path, int], list[str]]
"""Writes an input of about so many bytes into a folder, and gives the arguments of the command to run on it."""
KINDS: dict[str, Kind] = {}


def kind(make: Kind) -> Kind:
    """Register a kind of input under the name of its function."""
    KINDS[make.__name__] = make
    return make


def repeated(piece: str, size: int) -> str:
    """A piece over and over, to about so many characters."""
    return piece * max(1, size // len(piece))


def counted(form: str, size: int) -> str:
    """A piece over and over with a number in it, to about so many characters."""
    return "".join(form.format(n=n, w=letters(n)) for n in range(max(1, size // len(form.format(n=5000, w="abcd")))))


def letters(number: int) -> str:
    """A word of lower-case letters for each number."""
    out = ""
    while True:
        number, digit = divmod(number, 26)
        out += chr(97 + digit)
        if not number:
            return out + "q"


# -- texts ------------------------------------------------------------------------------------------------------------


def text(folder: Path, body: str, progression: Path = HARBOUR) -> list[str]:
    """The arguments that check a text."""
    (folder / "story.txt").write_text(body, encoding="utf-8")
    return ["check", str(folder / "story.txt"), "--progression", str(progression)]


@kind
def text_of_brackets(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("(a)", size))


@kind
def text_of_slashes(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("://", size))


@kind
def text_of_domains(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("a.com", size))


@kind
def text_of_domains_apart(folder: Path, size: int) -> list[str]:
    return text(folder, counted("a{w}.com/{n} ", size))


@kind
def text_of_addresses_that_touch(folder: Path, size: int) -> list[str]:
    return text(folder, counted("a{n}@b.com,", size))


@kind
def text_of_stretches_of_brackets(folder: Path, size: int) -> list[str]:
    return text(folder, "\n".join("(a1)" * 480 + letters(n) for n in range(max(1, size // 1925))))


@kind
def text_in_one_line(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("Tilda had a boat and the wind tore it. ", size))


@kind
def text_in_one_line_blocked(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("the bread and the head of the yacht ", size))


@kind
def text_of_one_word(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("tin", size))


@kind
def text_of_one_stretched_word(folder: Path, size: int) -> list[str]:
    return text(folder, "s" + "o" * size)


@kind
def text_of_one_word_with_hyphens(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("tin-", size) + "tin")


@kind
def text_of_one_word_with_apostrophes(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("tin'", size) + "tin")


@kind
def text_of_combining_marks(folder: Path, size: int) -> list[str]:
    return text(folder, "e" + "\u0301" * (size // 2))


@kind
def text_of_unknown_words(folder: Path, size: int) -> list[str]:
    rng = random.Random(5)
    consonants, vowels = "bdfgklmnprstvz", "aeiou"
    words = []
    have = 0
    while have < size:
        word = "".join(rng.choice(consonants) + rng.choice(vowels) for _ in range(rng.randint(3, 6)))
        words.append(word)
        have += len(word) + 1
    return text(folder, "\n".join(" ".join(words[n : n + 10]) for n in range(0, len(words), 10)))


@kind
def text_of_lines_with_blanks_at_the_end(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("Tilda had a tin.      \n", size))


@kind
def text_of_divided_words(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("a bis-\ncuit ", size))


@kind
def text_of_quotation_marks(folder: Path, size: int) -> list[str]:
    return text(folder, repeated("“read” 'read' ", size))


@kind
def text_with_stretched_sounds(folder: Path, size: int) -> list[str]:
    progression = folder / "own.progression"
    sounds = ", ".join("br" + letters(n) for n in range(max(1, size // 40)))
    progression.write_text(f"step 1\n  teach a\nallow sounds {sounds}\n", encoding="utf-8")
    return text(folder, counted("brrr{w}r ", size), progression)


@kind
def text_with_allowed_names(folder: Path, size: int) -> list[str]:
    progression = folder / "own.progression"
    progression.write_text("step 1\n  teach a\n" + counted("allow names Q{w}, Mr Z{w}\n", size), encoding="utf-8")
    return text(folder, counted("Q{w} ", size), progression)


# -- progressions -------------------------------------------------------------------------------------------------------


def progression(folder: Path, body: str, *command: str) -> list[str]:
    """The arguments that check a progression, or do something else with it."""
    path = folder / "own.progression"
    path.write_text(body, encoding="utf-8")
    return ["progression", *(command or ("check",)), str(path)]


@kind
def name_of_many_words(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a\nallow names " + counted("T{w} ", size) + "\n")


@kind
def many_names_in_a_line(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a\nallow names " + counted("Q{w}, ", size) + "Omar\n")


@kind
def pinned_sound_of_many_letters(folder: Path, size: int) -> list[str]:
    return progression(folder, f"step 1\n  teach a\nword ia = ia /{'iː' * (size // 3)}/\n")


@kind
def pinned_sound_that_is_none(folder: Path, size: int) -> list[str]:
    return progression(folder, f"step 1\n  teach a\nword ia = ia /{'i' * size}9/\n")


@kind
def pinned_word_of_many_letters(folder: Path, size: int) -> list[str]:
    half = size // 5
    return progression(folder, f"step 1\n  teach a\nword {'t' * half} = {' + '.join('t' * half)}\n")


@kind
def pinned_words(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a\n" + "".join(
        f"word {w} = {' + '.join(w)}\n" for w in map(letters, range(max(1, size // 22)))
    ))  # fmt: skip


@kind
def tricky_words(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a\n" + counted("  tricky {w}\n", size))


@kind
def tricky_words_in_a_line(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a\n  tricky " + counted("{w}, ", size) + "the\n")


@kind
def tricky_word_again_and_again(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a\n" + repeated("  tricky the\n", size))


@kind
def item_again_and_again(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n" + repeated("  teach ow as in grow\n", size))


@kind
def item_again_and_again_in_a_line(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach " + repeated("p, ", size) + "p\n")


@kind
def unknown_items(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n" + counted("  teach z{w}x\n", size))


@kind
def unknown_items_in_a_line(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach " + counted("z{w}x, ", size) + "p\n")


@kind
def unknown_item_of_many_letters(folder: Path, size: int) -> list[str]:
    return progression(folder, f"step 1\n  teach {'ai' * (size // 2)}\n")


@kind
def item_named_by_many_words(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a as in cat" + repeated(" and hat", size) + "\n")


@kind
def steps_without_lessons(folder: Path, size: int) -> list[str]:
    return progression(folder, "".join(f"step {n}\n" for n in range(1, max(2, min(9998, size // 100)))))


@kind
def steps_out_of_order(folder: Path, size: int) -> list[str]:
    return progression(folder, repeated("step 9\n", size))


@kind
def lines_that_are_none(folder: Path, size: int) -> list[str]:
    return progression(folder, repeated("teech a\n", size))


@kind
def lines_of_no_form(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n" + repeated("teach a b\n", size))


@kind
def line_of_no_form(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\nteach " + repeated("a, ", size) + "b c\n")


@kind
def line_of_quotation_marks(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1 " + repeated('" ', size) + "\n")


@kind
def line_of_blanks(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\nteach a" + " " * size + "b\n")


@kind
def structures(folder: Path, size: int) -> list[str]:
    return progression(folder, "step 1\n  teach a\n  structure " + "C" * size + "V\n")


@kind
def step_titles(folder: Path, size: int) -> list[str]:
    steps = (f'step {n} "{"week" * 20}{n}"\n' for n in range(1, max(2, min(9998, size // 100))))
    return [*text(folder, "tin tin", folder / "own.progression"), "--step", "week" * 20 + "50x"] if progression(
        folder, "".join(steps)
    ) else []  # fmt: skip


def _steps(size: int) -> str:
    """A progression of many steps: 9,998, the most there can be, for 1 MB; each with a tricky word, some with a lesson."""
    lessons = ["p", "e", "n", "t", "ai", "ow as in grow", "ow as in town", "-ing", "igh", "sh", "nk"]
    count = max(3, min(9998, size // 100))
    return "".join(
        f'step {n} "Term {n // 40}, lesson {n}"\n' + (f"  teach {lessons[n // 50]}\n" if n % 50 == 0 and n // 50 < len(lessons) else "")
        + f"  tricky {letters(n)}\n"
        for n in range(1, count)
    )  # fmt: skip


@kind
def show_many_steps(folder: Path, size: int) -> list[str]:
    return progression(folder, _steps(size), "show")


@kind
def advise_many_steps(folder: Path, size: int) -> list[str]:
    return progression(folder, _steps(size), "advise")


@kind
def compare_many_steps(folder: Path, size: int) -> list[str]:
    (folder / "before.progression").write_text(_steps(size), encoding="utf-8")
    return progression(
        folder, _steps(size).replace("teach ai", "teach oa"), "compare", str(folder / "before.progression")
    )


@kind
def compare_many_steps_with_another_order(folder: Path, size: int) -> list[str]:
    lines = _steps(size).split("step ")[1:]
    bodies = [line.partition("\n") for line in lines]
    turned = "".join(f"step {a[0]}\n{b[2]}" for a, b in zip(bodies, reversed(bodies)))
    (folder / "before.progression").write_text(_steps(size), encoding="utf-8")
    return progression(folder, turned, "compare", str(folder / "before.progression"))


@kind
def check_a_text_against_many_steps(folder: Path, size: int) -> list[str]:
    progression(folder, _steps(size))
    return text(folder, repeated("Tilda had a boat. ", 2000), folder / "own.progression")


@kind
def includes_in_a_row(folder: Path, size: int) -> list[str]:
    count = max(2, min(900, size // 1100))
    for n in range(count):
        (folder / f"part{n}.progression").write_text("", encoding="utf-8")
    return progression(
        folder, "step 1\n  teach a\n" + "".join(f'include "part{n}.progression"\n' for n in range(count))
    )


@kind
def includes_one_in_another(folder: Path, size: int) -> list[str]:
    count = max(2, size // 700)
    for n in range(count):
        (folder / f"part{n}.progression").write_text(f'include "part{n + 1}.progression"\n', encoding="utf-8")
    return progression(folder, 'step 1\n  teach a\ninclude "part0.progression"\n')


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


# -- measuring ----------------------------------------------------------------------------------------------------------


def seconds(name: str, size: int) -> float:
    """The time of one kind at one size, in this process, after a tiny run of it."""
    from decodecheck.cli.main import run

    with tempfile.TemporaryDirectory() as folder:
        for number, amount in enumerate((60, size)):
            place = Path(folder, str(number))
            place.mkdir()
            arguments = KINDS[name](place, amount)
            with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
                start = time.perf_counter()
                code = run(arguments)
                taken = time.perf_counter() - start
            assert code in (0, 1, 2), (name, code)
    return taken


def _apart(name: str, size: int) -> float:
    """The same in a process of its own; infinite where it takes too long or fails."""
    command = [sys.executable, "-m", "tests.benchmarks.growth", "--measure", name, str(size)]
    try:
        done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, timeout=PATIENCE, check=False)
    except subprocess.TimeoutExpired:
        return math.inf
    if done.returncode:
        print(done.stderr[-1500:], file=sys.stderr)
        return math.inf
    return float(done.stdout.split()[-1])


def table(names: list[str], size: int = WHOLE) -> list[str]:
    """Print a line for each kind; gives the names of those over the limit."""
    over = []
    print(f"{'kind':<44} {'1/4':>9} {'whole':>9} exponent", flush=True)
    for name in names:
        small = _apart(name, size // 4)
        large = _apart(name, size) if small < math.inf else math.inf
        exponent = math.log(large / small, 4) if large < math.inf else math.inf
        bad = large == math.inf or (large > FLOOR and exponent > LIMIT)
        if bad:
            over.append(name)
        print(f"{name:<44} {small:8.3f}s {large:8.3f}s {exponent:8.2f}{'  OVER' if bad else ''}", flush=True)
    return over


def main(arguments: list[str]) -> int:
    """Measure the kinds named, or all."""
    if arguments[:1] == ["--measure"]:
        print(seconds(arguments[1], int(arguments[2])))
        return 0
    size = WHOLE
    if "--bytes" in arguments:
        at = arguments.index("--bytes")
        size = int(arguments[at + 1])
        del arguments[at : at + 2]
    over = table(arguments or list(KINDS), size)
    if over:
        print(f"over the limit of {LIMIT}: {', '.join(over)}")
    return int(bool(over))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
