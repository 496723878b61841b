"""An allowance that allows nothing.

What it checks: comments of a text such as `decodecheck: allow bread` for which there is nothing to be told where they hold.

Why it matters: the word is gone, or has been taught by now. Left behind, the comment would hide the next fault on that word.

Example: a comment that allows *bread* before a story in which nobody has any.

Instead: take the comment out, or let `decodecheck check --fix` do it. Nothing else in the file changes.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING, Checked, Spotted

SEVERITY = WARNING


def find(report: Checked) -> Iterator[Spotted]:
    """The comments that allow nothing."""
    for allowance in report.idle:
        start = min(allowance.start, len(report.document.text))
        kind = f" of the kind {allowance.kind}" if allowance.kind else ""
        yield Spotted(
            start, start,
            f"This allows “{allowance.word}”, but nothing{kind} is told of that word where it holds.",
            "Take the comment out." + (" --fix does it." if allowance.spans else ""),
            allowance.word, (allowance.place, allowance.end_place), allowance.excerpt,
        )  # fmt: skip
