"""How a finding is told in formats that have a line or a field for it."""

from __future__ import annotations

import hashlib
import os
from collections import Counter
from collections.abc import Iterable
from dataclasses import fields
from pathlib import Path

from decodecheck.checking.values import Finding
from decodecheck.documents.document import Place
from decodecheck.errors import shortened
from decodecheck.judging.verdict import LABELS
from decodecheck.printing import safe
from decodecheck.reports.marks import mark
from decodecheck.run import Failure
from decodecheck.source import shown

LINE_AND_COLUMN = ("line", "column")


def headline(finding: Finding) -> str:
    """The word with what is in its way, and its status: br[ea]d - not yet decodable. In one line."""
    status = LABELS.get(finding.status, finding.kind.replace("-", " "))
    return safe(f"{mark(' '.join(finding.word.split()), finding.blockers)} - {status}")


def message(finding: Finding) -> str:
    """What is wrong, in one line."""
    return safe(" ".join(shortened(finding.message).split()))


def remedy(finding: Finding) -> str:
    """What to do; a remedy that is pasted into a file has lines."""
    return "\n".join(map(safe, shortened(finding.remedy).split("\n")))


def in_lines(place: Place) -> bool:
    """Whether the line of a place is one of its file, as an editor counts them: that of a page of a PDF is none."""
    return bool(place.line) and not (place.page or place.chapter or place.sheet)


def elsewhere(place: Place) -> str:
    """A place in a file without lines, as people name it; "" where line and column say it all."""
    named = any(getattr(place, part.name) for part in fields(place) if part.name not in LINE_AND_COLUMN)
    return safe(place.words()) if named or not place.line else ""


def grouped(findings: Iterable[Finding]) -> list[list[Finding]]:
    """The findings that say the same of the same word, in the order of the first of each."""
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for finding in findings:
        # the same word may stand in the way for another reason elsewhere: in another sense, with a capital
        groups.setdefault((finding.word.lower(), finding.kind, finding.message), []).append(finding)
    return [*groups.values()]


def failure_words(failure: Failure) -> tuple[str, str]:
    """What could not be checked, and what to do, each in one line."""
    first = failure.problem
    path = shown(failure.path)
    place = "" if first.path in (path, "") else first.path
    if first.line:
        place += f":{first.line}" + (f":{first.column}" if first.column else "")
    more = len(failure.problems) - 1
    what = (f"{place.removeprefix(':')}: " if place else "") + first.what + (f" (and {more} more)" if more else "")
    return what, first.todo


class Fingerprints:
    """Names for findings that stay the same while lines are put in or taken out around them: by file, kind, word, and the how manieth
    of these it is in its file."""

    def __init__(self) -> None:
        self._seen: Counter[tuple[str, str, str]] = Counter()

    def of(self, path: str, finding: Finding) -> str:
        """The fingerprint of the next finding of a file."""
        key = path, finding.kind, finding.plain
        self._seen[key] += 1
        return fingerprint(*key, str(self._seen[key]))


def fingerprint(*parts: str) -> str:
    """A name made of some parts: 32 hexadecimal digits."""
    return hashlib.sha256("\0".join(parts).encode("utf-8", "backslashreplace")).hexdigest()[:32]


def from_here(path: str) -> str:
    """A path as other programs on the same files want it: relative to the folder at hand where it leads into it, with slashes."""
    if Path(path).is_absolute():
        here = Path.cwd()
        path = str(Path(path).relative_to(here)) if Path(path).is_relative_to(here) else path
    return path.replace(os.sep, "/")
