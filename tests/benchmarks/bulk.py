"""Whole books and folders of texts, side by side with the plainest reading of the same words; memory; what is loaded for a story.

    python -m tests.benchmarks.bulk [--texts FOLDER]

The texts are 2.3 MB of prose (stories, and variants of them) and the same with every tenth word made rare (`corpus.prose`, `corpus.with_rare_words`). With
`--texts` the prose is that of the .txt files of a folder. Exit code 1 if a figure is over its limit.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.corpus import in_texts, of_size, prose, with_rare_words
from tests.benchmarks.measuring import (
    COMPILED,
    EVERYTHING,
    FAILED,
    HARBOUR,
    ROOT,
    TOOL,
    peak,
    report,
    report_pairs,
    whole_process,
)

STEP = 20
"""The step of the demo's order at which texts are checked."""
IN_PROCESS, PROCESSES = 5, 3
"""Pairs of runs."""
WORDS = 300
"""Words of each text of a folder."""

CHECKED = """
import re, sys, time
from collections import Counter
from decodecheck.checking.check import Checker
from decodecheck.judging.judge import Judge
from decodecheck.progression.resolve import load
from decodecheck.source import SourceText, read_text

def checked(order, step, source):
    report = Checker(Judge(order, step)).check(source)
    return report.counts, report.starts
"""
"""What checks one text in the program itself: counts by status, and the places of what is found, are there in the end."""
AGAINST_COUNTING = """
path, step, corpus = sys.argv[1:]
order = load(path)
step = int(step) or order.last
source = read_text(corpus)
# whatever is loaded for the first text is there: the lexicon, the steps of its words, what knows an address
checked(order, step, SourceText("story", "Nettle had 10 pens at harbour-lane.example.org."))
start = time.perf_counter()
counts, places = checked(order, step, source)
middle = time.perf_counter()
stretches = Counter(re.findall(r"\\S+", source.text))
end = time.perf_counter()
assert sum(counts.values()) and len(places) and len(stretches)
print((middle - start) / (end - middle))
"""
COUNTING = """
import re, sys
from collections import Counter
with open(sys.argv[1], encoding="utf-8") as file:
    stretches = Counter(re.findall(r"\\S+", file.read()))
print(len(stretches))
"""
"""The plainest reading of a text: every stretch between blanks, counted."""
LOADED = """
import sys
from decodecheck.cli.main import run
run(["check", sys.argv[1], "--progression", sys.argv[2]])
print(sum(name.partition(".")[0] == "spacy" for name in sys.modules))
"""
STORY = "Tilda met Omar at half past 10, or 10:45. Mr Pike wrote to nettle@harbour-lane.example.org about 25 pens.\n"


def _printed(code: str, *arguments: str) -> str:
    command = [sys.executable, "-c", code, *arguments]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, env=COMPILED, check=True)
    return done.stdout.split()[-1]


def in_process(corpora: dict[str, Path]) -> None:
    """The check alone, each time in a fresh process with the program loaded and a judge of its own."""
    for kind, corpus in corpora.items():
        for name, path, step, limit in (("everything", EVERYTHING, 0, 3.0), (f"step {STEP}", HARBOUR, STEP, 4.0)):
            code = CHECKED + AGAINST_COUNTING
            ratios = [float(_printed(code, str(path), str(step), str(corpus))) for _ in range(IN_PROCESS)]
            report_pairs(f"check in process, {name}, {kind} / counting stretches", ratios, limit)


CHECKS = (("everything", [str(EVERYTHING)]), (f"step {STEP}", [str(HARBOUR), "--step", str(STEP)]))
"""Orders of teaching as the command takes them."""


def _check(path: Path, options: list[str]) -> list[str]:
    return [*TOOL, "check", str(path), "--progression", *options]


def whole_command(folder: Path, text: str) -> None:
    """6 MB in one file: the command from its start to its end, its report in a file."""
    path = folder / "six.txt"
    path.write_text(of_size(text, 6_000_000), encoding="utf-8")
    counting = [sys.executable, "-c", COUNTING, str(path)]
    for (name, options), limit in zip(CHECKS, (6.0, 8.0)):
        ratios = whole_process(_check(path, options), counting, PROCESSES)
        report_pairs(f"check of 6 MB, {name} / counting its stretches", ratios, limit)


def many_texts(folder: Path, text: str) -> None:
    """400 texts of 300 words against the same words in one file, and the memory of ten times as many."""
    many, most, one = folder / "400", folder / "4000", folder / "one.txt"
    for place, number in ((many, 400), (most, 4000)):
        place.mkdir()
        texts = in_texts(of_size(text, number * WORDS * 10), WORDS)[:number]
        assert len(texts) == number
        for at, part in enumerate(texts):
            (place / f"{at:04}.txt").write_text(part, encoding="utf-8")
        if place == many:
            one.write_text("\n".join(texts), encoding="utf-8")
    for name, options in CHECKS:
        ratios = whole_process(_check(many, options), _check(one, options), PROCESSES)
        report_pairs(f"check of 400 texts, {name} / of one with the same words", ratios, 1.5)
    for name, options in CHECKS:
        grown = peak(_check(most, options)) / peak(_check(many, options))
        report(f"peak memory of 4,000 texts, {name} / of 400", grown, 1.1)


def memory(folder: Path, text: str) -> None:
    """The most memory that the command takes for 10 MB."""
    path = folder / "ten.txt"
    path.write_text(of_size(text, 10_000_000), encoding="utf-8")
    for name, options in CHECKS:
        report(f"peak memory of the check of 10 MB, {name}", peak(_check(path, options)), 250, " MiB")


def loaded(folder: Path) -> None:
    """What a story with an address, a time and a numeral needs: no module of spaCy."""
    path = folder / "story.txt"
    path.write_text(STORY, encoding="utf-8")
    report("modules of spaCy for an address, a time, a numeral", float(_printed(LOADED, str(path), str(EVERYTHING))), 0)


def bulk(folder: Path, texts: Path | None = None) -> None:
    """All of it; `folder` is where the texts are written, `texts` where real prose may be had."""
    text = prose(texts)
    rare = with_rare_words(text)
    corpora = {"prose": folder / "prose.txt", "rare words": folder / "rare.txt"}
    for (kind, path), whole in zip(corpora.items(), (text, rare)):
        path.write_text(whole, encoding="utf-8")
        print(f"{kind}: {path.stat().st_size / 1e6:.2f} MB, {len(set(whole.split()))} distinct stretches", flush=True)
    loaded(folder)
    in_process(corpora)
    whole_command(folder, text)
    many_texts(folder, text)
    memory(folder, text)


def main() -> int:
    """Run everything."""
    parser = argparse.ArgumentParser(description="Speed and memory for whole books and folders of texts.")
    parser.add_argument("--texts", type=Path, metavar="FOLDER", help="a folder with .txt files to take the prose from")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        bulk(Path(folder), given.texts)
    return int(bool(FAILED))


if __name__ == "__main__":
    sys.exit(main())
