"""Accuracy of this checkout: coverage, the gold set, heteronyms, the predictor, agreement with published checks.

python -m tests.accuracy
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator

from decodecheck.checking.judge import Judge
from decodecheck.checking.verdict import DECODABLE, TRICKY
from decodecheck.lexicon.build import audit
from tests.checking.test_context import MEASURED, outcomes_of
from tests.checks import test_common_core, test_curriculum
from tests.checks.published import table
from tests.checks.test_standards import AMERICA, ENGLAND, order
from tests.lexicon.test_gold import summary
from tests.lexicon.test_predict import trial

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
    for name, rows, holds, standard, step in (
        ("national curriculum, year 1", test_curriculum.NAMED, test_curriculum.holds, ENGLAND, 2),
        ("Common Core, Figure 8", [r for r in test_common_core.ROWS if r["word"]], test_common_core.holds, AMERICA, 3),
    ):
        held = sum(map(holds, rows))
        yield f"Example words of the {name}: {held} of {len(rows)} hold the grapheme of their row"
        judge = Judge(order(standard), step)
        file = "nc_appendix1_year1.tsv" if standard == ENGLAND else "ccss_consonants.tsv"
        words = sorted({row["word"] for row in table(file) if row["word"]})
        barred = [w for w in words if judge.judge(w).status not in (DECODABLE, TRICKY)]
        yield f"  {len(words) - len(barred)} of {len(words)} can be read at step {step} of {standard}; not: {', '.join(barred)}"


def main() -> int:
    """Print every figure; the exit code is that of the published checks."""
    print("Coverage of wordfreq's best English list", flush=True)
    audit.main([])
    print(f"\n{summary()}")
    print("\n".join(heteronyms()), flush=True)
    whole, divided = trial()
    print(f"Predictor, 2,000 hidden words without relatives: {whole:.1%} whole words, {divided:.1%} divisions")
    print("\n".join(published_words()))
    print("\nPublished checks", flush=True)
    command = [sys.executable, "-m", "pytest", "tests/checks", "-q", "-s", "--no-header"]
    return subprocess.run(command, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
