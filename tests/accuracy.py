"""Accuracy of this checkout: agreement with published checks, the gold set, coverage, heteronyms, the predictor.

python -m tests.accuracy
"""

from __future__ import annotations

import subprocess
import sys

from decodecheck.lexicon.build import audit
from decodecheck.lexicon.lookup import Lookup
from decodecheck.tables import read_table
from tests.checking.test_context import figures, general_sentences, unseen_sentences
from tests.data.folder import DATA
from tests.lexicon.test_gold import ACCENT, graphemes_agree, sounds_agree
from tests.lexicon.test_predict import trial


def main() -> int:
    """Print every figure; the exit code is that of the published checks."""
    print("Coverage of wordfreq's best English list", flush=True)
    audit.main([])
    lookup = Lookup(ACCENT)
    rows = read_table(DATA / "gold_segmentations.tsv")
    split = sum(graphemes_agree(r["word"].split("#")[0], r, lookup) for r in rows)
    sound = sum(sounds_agree(r["word"].split("#")[0], r, lookup) for r in rows)
    print(f"\nGold set: {split} of {len(rows)} divisions, {sound} pronunciations to the letter")
    for name, outcomes in (("heteronyms.tsv", general_sentences()), ("heteronym_sentences.tsv", unseen_sentences())):
        right, wrong = figures(outcomes)
        print(f"Heteronyms, {name}: {right:.1%} right, {wrong:.1%} wrong, {1 - right - wrong:.1%} left open")
    whole, divided = trial()
    print(f"Predictor, 2,000 hidden words without relatives: {whole:.1%} whole words, {divided:.1%} divisions\n")
    print("Published checks", flush=True)
    command = [sys.executable, "-m", "pytest", "tests/checks", "-q", "-s", "--no-header"]
    return subprocess.run(command, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
