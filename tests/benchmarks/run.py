"""Speed and memory as ratios measured side by side in one run.

    python -m tests.benchmarks.run [--texts FOLDER]

Whole-process figures take the median of several runs, the two commands in turn. Exit code 1 if a ratio is over its limit.
"""

from __future__ import annotations

import argparse
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks import growth
from tests.benchmarks.answers import answers
from tests.benchmarks.bulk import bulk
from tests.benchmarks.corpus import STORIES, drawn
from tests.benchmarks.fitting import fitting
from tests.benchmarks.growth_kinds import KINDS
from tests.benchmarks.measuring import (
    DEMO,
    EVERYTHING,
    FAILED,
    HARBOUR,
    RUNS,
    TOOL,
    report,
    report_pairs,
    whole_process,
)
from tests.benchmarks.page import page
from tests.benchmarks.practising import practising


def start_up() -> None:
    """Commands that need no text, against importing click and lark; a story, against loading spaCy."""
    python = sys.executable
    light = [python, "-c", "import click, lark"]
    for name, arguments, limit in (
        ("explain", ["explain", "bread", "making"], 1.3),
        ("progression check", ["progression", "check", str(HARBOUR)], 2.0),
        ("--help", ["--help"], 0.7),
    ):
        report_pairs(f"{name} / import click, lark (whole process)", whole_process([*TOOL, *arguments], light), limit)
    heavy = [python, "-c", "import numpy, click, lark"]
    school = ["--progression", str(HARBOUR)]
    for name, arguments in (
        ("chain", ["chain", "sheep", "moon", *school]),
        ("chain of a length", ["chain", "cat", "--length", "10", *school]),
        ("pseudowords", ["pseudowords", *school]),
        ("pseudowords of both sections", ["pseudowords", "--sections", "both"]),
        ("pseudowords for all accents", ["pseudowords", *school, "--accent", "all"]),
    ):
        ratios = whole_process([*TOOL, *arguments], heavy)
        report_pairs(f"{name} / import numpy, click, lark (whole process)", ratios, 3.0)
    story = DEMO / "texts" / "step-23" / "the-slow-boat-game.txt"
    spacy = [python, "-c", "import spacy; spacy.blank('en')"]
    ratios = whole_process([*TOOL, "check", str(story)], spacy)
    report_pairs("check of one story / spacy.blank('en') (whole process)", ratios, 1.25)


FIND = """
import sys, time
start = time.perf_counter()
import numpy, click, lark
loading = time.perf_counter() - start
from decodecheck.garbage import collection_paused
from decodecheck.progression.resolve import load
order = load(sys.argv[1])
{prepared}
with collection_paused():
    start = time.perf_counter()
    found = {asked}
    taken = time.perf_counter() - start
assert found
print(taken / loading, 1000 * taken)
"""
WORDS = """
from decodecheck.wordlists.find import find
from decodecheck.wordlists.targets import target
from decodecheck.wordlists.wanted import WantedWords
"""
CHAIN = "from decodecheck.wordlists.chain import Chains"
PSEUDOWORDS = "from decodecheck.wordlists.pseudowords import Wanted, of_section, pseudowords"
FINDS = {
    "words, all": (WORDS, "find(order, order.last, WantedWords()).words"),
    "words, all that sound like no other": (WORDS, "find(order, order.last, WantedWords(apart=True)).words"),
    "words, one target": (
        WORDS,
        "find(order, order.last, WantedWords((target(order, 'ow as in grow', '--with'),), number=8, apart=True)).words",
    ),
    "chain": (CHAIN, "Chains(order, order.last).between('sheep', 'moon').words"),
    "chain of a length": (CHAIN, "Chains(order, order.last).of_length('cat', 10, 0).words"),
    "pseudowords": (PSEUDOWORDS, "pseudowords(Wanted(((order, order.last),), (order.accent,)), 10, 0)"),
    "pseudowords of a section": (PSEUDOWORDS, "pseudowords(of_section(2, (order.accent,), ()), 10, 0)"),
}
"""What is found, by name: what has to be there beforehand, and the call that is timed."""


def finding() -> None:
    """Words for a lesson from the whole lexicon: the whole process, and the find alone in a new process."""
    light = [sys.executable, "-c", "import numpy, click, lark"]
    for name, more in (
        ("all", []),
        ("400", ["--number", "400"]),
        ("one target", ["--with", "ow as in grow", "--number", "8", "--apart"]),
    ):
        ratios = whole_process([*TOOL, "words", "--progression", str(HARBOUR), *more], light)
        report_pairs(f"words, {name} / import numpy, click, lark (whole process)", ratios, 3.0)
    with tempfile.TemporaryDirectory() as folder:
        lesson = ["--with", "ow as in grow", "--number", "8", "--apart", "--sheet", str(Path(folder) / "week.html")]
        ratios = whole_process([*TOOL, "words", "--progression", str(HARBOUR), *lesson], light)
        report_pairs("words with their sheet / import numpy, click, lark (whole process)", ratios, 3.5)
    # loading takes about 100 ms where nothing else is done, so that the limit stands for 150 ms
    for name, (prepared, asked) in FINDS.items():
        runs = [_printed(FIND.format(prepared=prepared, asked=asked), str(HARBOUR)) for _ in range(RUNS)]
        report_pairs(f"the find alone, {name} / loading numpy, click, lark", [ratio for ratio, _ in runs], 1.5)
        print(f"  in milliseconds: {min(taken for _, taken in runs):.0f} at the least")


CHECK = """
import resource, sys, time
from decodecheck.checking.check import Checker
from decodecheck.judging.judge import Judge
from decodecheck.progression.resolve import load
from decodecheck.source import read_text
order = load(sys.argv[1])
source = read_text(sys.argv[2])
start = time.perf_counter()
report = Checker(Judge(order, order.last)).check(source)
print(time.perf_counter() - start, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
"""
CUT = """
import spacy, sys, time
nlp = spacy.blank('en')
text = open(sys.argv[1], encoding='utf-8').read()
start = time.perf_counter()
for i in range(0, len(text), 100_000):
    nlp.make_doc(text[i : i + 100_000])
print(time.perf_counter() - start)
"""


def _printed(code: str, *arguments: str) -> list[float]:
    done = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True)
    return [float(x) for x in done.stdout.split()]


def large_text(folder: Path) -> None:
    """10 MB at a late step against spaCy's make_doc over the same text; memory; growth from 5 to 10 MB."""
    text = drawn(10_000_000)
    whole, half = folder / "whole.txt", folder / "half.txt"
    whole.write_text(text, encoding="utf-8")
    half.write_text(text[: text.index("\n\n", len(text) // 2)] + "\n", encoding="utf-8")
    stretches = len(set(text.split()))
    print(
        f"corpus: {whole.stat().st_size / 1e6:.1f} MB, {stretches} distinct stretches (drawn prose and public-domain stories)"
    )
    ratios, growth, peaks = [], [], []
    for _ in range(3):
        seconds, peak = _printed(CHECK, str(EVERYTHING), str(whole))
        (cutting,) = _printed(CUT, str(whole))
        shorter, _ = _printed(CHECK, str(EVERYTHING), str(half))
        ratios.append(seconds / cutting)
        growth.append(seconds / shorter)
        peaks.append(peak)
    report("check of 10 MB / make_doc over it (everything, its last step)", statistics.median(ratios), 0.45)
    report("peak memory of that check", max(peaks), 300, " MiB")
    report("time of 10 MB / time of 5 MB", statistics.median(growth), 2.3)
    seconds, _ = _printed(CHECK, str(HARBOUR), str(whole))
    print(f"the same at the last step of the demo's order: {seconds / cutting:.3f}")


def vector() -> None:
    """The first steps of the whole lexicon for a new progression."""
    from decodecheck.progression.resolve import load

    times = []
    for _ in range(RUNS):
        order = load(str(HARBOUR))
        start = time.perf_counter()
        assert len(order.readiness.senses)
        times.append(1000 * (time.perf_counter() - start))
    report("the vector for a new progression", statistics.median(times), 20, " ms")


STEPS, ITEMS, PARTS = 60, 400, 4


def large_progression() -> list[str]:
    """60 steps of a progression with 400 items, as lines a step."""
    from decodecheck.lexicon.endings import ENDINGS
    from decodecheck.lexicon.items import ADJACENT
    from decodecheck.phonics.inventory import inventory, together
    from decodecheck.progression.resolve import resolve

    wanted = [f"{c.grapheme} as in {c.key_word}" for c in inventory().all if c.place != "ending"]
    wanted += [*together(), *ENDINGS]
    # what the accent merges with something earlier is no item of its own
    items: list[str] = []
    order, problems = resolve("step 1\n" + "".join(f"  teach {item}\n" for item in wanted), "x")
    wrong = {p.line for p in problems}
    for number, item in enumerate(wanted, 2):
        if number not in wrong:
            items.append(item)
    capitals = [chr(c) for c in range(65, 91)]
    shapes = ["CVC", "CCVC", "CVCC", "CCVCC", "CCCVC", "2 syllables", "3 syllables", "4 syllables"]
    runs = sorted({"".join(item.run) for item in order.lexicon.tables.items_of(ADJACENT)})
    plain = [f"teach {x}" for x in [*items, *capitals, *runs]] + [f"structure {x}" for x in shapes]
    assert len(plain) >= ITEMS, len(plain)
    chosen = plain[:ITEMS]
    return ["\n".join([f"step {n + 1}", *chosen[n::STEPS]]) + "\n" for n in range(STEPS)]


def includes(folder: Path) -> None:
    """A progression of 60 steps and 400 items in four files against the same in one."""
    from decodecheck.progression.resolve import load

    steps = large_progression()
    whole, divided = folder / "whole.progression", folder / "divided.progression"
    whole.write_text("".join(steps), encoding="utf-8")
    size = STEPS // PARTS
    for n in range(PARTS - 1):
        (folder / f"part{n}.progression").write_text("".join(steps[n * size : (n + 1) * size]), encoding="utf-8")
    opening = "".join(f'include "part{n}.progression"\n' for n in range(PARTS - 1))
    divided.write_text(opening + "".join(steps[(PARTS - 1) * size :]), encoding="utf-8")
    assert len(load(str(whole)).mentions) == len(load(str(divided)).mentions) == ITEMS
    pairs = []
    for _ in range(RUNS):
        times = []
        for path in (divided, whole):
            start = time.perf_counter()
            load(str(path))
            times.append(time.perf_counter() - start)
        pairs.append(times[0] / times[1])
    report("60 steps, 400 items, three includes / the same in one file", statistics.median(pairs), 1.5)


def main() -> int:
    """Run everything."""
    import tempfile

    parser = argparse.ArgumentParser(description="Speed and memory.")
    parser.add_argument(
        "--texts", type=Path, metavar="FOLDER", help="a folder with .txt files, for tests.benchmarks.bulk"
    )
    given = parser.parse_args()
    assert any(STORIES.glob("*.txt"))
    start_up()
    vector()
    finding()
    page()
    fitting()
    practising()
    with tempfile.TemporaryDirectory() as folder:
        includes(Path(folder))
        large_text(Path(folder))
    with tempfile.TemporaryDirectory() as folder:
        answers(Path(folder), given.texts)
    with tempfile.TemporaryDirectory() as folder:
        bulk(Path(folder), given.texts)
    FAILED.extend(growth.table(list(KINDS)))
    print(f"this process peaked at {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")
    return int(bool(FAILED))


if __name__ == "__main__":
    sys.exit(main())
