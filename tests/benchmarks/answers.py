"""A thousand short stories: checked for the first time against the same words in one file; checked again, with the answer kept, against
importing click; memory against that of fewer.

    python -m tests.benchmarks.answers [--texts FOLDER]

Exit code 1 if a figure is over its limit.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.bulk import CHECKS
from tests.benchmarks.corpus import in_texts, of_size, prose
from tests.benchmarks.measuring import FAILED, TOOL, peak, report, report_pairs, whole_process

NUMBER, FEWER = 1000, 500
WORDS = 150
"""Words of each story."""
PAIRS = 3


def answers(folder: Path, texts: Path | None = None) -> None:
    """All of it; `folder` is where the stories are written, `texts` where real prose may be had."""
    stories = in_texts(of_size(prose(texts), NUMBER * WORDS * 10), WORDS)[:NUMBER]
    assert len(stories) == NUMBER
    many, few, one, kept = folder / "many", folder / "few", folder / "one.txt", str(folder / "kept")
    for place, number in ((many, NUMBER), (few, FEWER)):
        place.mkdir()
        for at, story in enumerate(stories[:number]):
            (place / f"{at:04}.txt").write_text(story, encoding="utf-8")
    one.write_text("\n".join(stories), encoding="utf-8")
    click = [sys.executable, "-c", "import click"]
    for name, options in CHECKS:
        for form in ("text", "json"):
            check = [*TOOL, "check", str(many), "--progression", *options, "--format", form]
            whole = [*TOOL, "check", str(one), "--progression", *options, "--format", form]
            ratios = whole_process(check, whole, PAIRS)
            report_pairs(f"1,000 short stories, {name}, {form} / the same in one file", ratios, 1.5)
            grown = peak(check) / peak([*TOOL, "check", str(few), "--progression", *options, "--format", form])
            report(f"peak memory of 1,000, {name}, {form} / of {FEWER}", grown, 1.2)
            peak(check, kept)
            ratios = whole_process(check, click, kept=kept)
            report_pairs(f"1,000 checked before, {name}, {form} / import click (whole process)", ratios, 3.0)
    fine = folder / "fine"
    fine.mkdir()
    for at in range(NUMBER):
        (fine / f"{at:04}.txt").write_text(f"Tilda had a pen.\n{'A tin pan. ' * (at % 60)}\n", encoding="utf-8")
    check = [*TOOL, "check", str(fine), "--progression", *CHECKS[1][1], "--quiet"]
    peak(check, kept)
    report_pairs("1,000 that are fine, checked before / import click", whole_process(check, click, kept=kept), 3.0)


def main() -> int:
    """Run it all."""
    parser = argparse.ArgumentParser(description="A thousand short stories.")
    parser.add_argument("--texts", type=Path, metavar="FOLDER", help="a folder with .txt files to take the prose from")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        answers(Path(folder), given.texts)
    return int(bool(FAILED))


if __name__ == "__main__":
    sys.exit(main())
