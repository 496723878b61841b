"""Kinds of input for the benchmark of growth: texts and progressions."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
HARBOUR = ROOT / "corpora_demo" / "harbour-lane.progression"
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
def text_of_allowances(folder: Path, size: int) -> list[str]:
    words = [letters(number) for number in range(size // 100)]
    begun, ended = ("".join(f"#! decodecheck: {said} allow {word}\n" for word in words) for said in ("begin", "end"))
    allowed = repeated("#! decodecheck: allow bread\nbread bread\n", size // 3)
    return text(folder, f"{begun}a bread\n{ended}{allowed}")


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
def text_of_stretches_like_addresses(folder: Path, size: int) -> list[str]:
    pieces = ("a..", "a.", "a://", "http://-", "www.-", "a@", "a+", "a.1-", "_a", "1.1.")
    return text(
        folder, "\n".join(repeated(pieces[n % len(pieces)], 1900) + letters(n) for n in range(max(1, size // 1900)))
    )


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
