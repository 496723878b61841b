"""Refuse a zip file that would take minutes or gigabytes, or that leads elsewhere, before anything of it is unpacked.

Word documents, OpenDocument texts, e-books and workbooks are zip files. Python's zipfile never unpacks more of a part than the size
that the part says it has, so that the sizes that are claimed bound what can be unpacked.
"""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import dataclass

from decodecheck.errors import count
from decodecheck.formats import LONGEST_LIST, list_size
from decodecheck.printing import safe

MOST_PARTS = 2_000
MOST_TIMES = 250
"""A part that is unpacked to more than so many times its size, and to more than `ALWAYS_FINE` bytes, holds nothing but padding."""
ALWAYS_FINE = 20_000_000
_ELSEWHERE = re.compile(r"[/\\]|[A-Za-z]:|(?:.*[/\\])?\.\.(?:[/\\]|\Z)", re.DOTALL)


class Refused(Exception):
    """What is wrong, and what to do."""


@dataclass(frozen=True, slots=True)
class Limits:
    """How messages name the file, up to how many bytes it may have when it is unpacked, and how to save it in another way."""

    name: str
    most_bytes: int
    otherwise: str


def open_package(data: bytes, limits: Limits) -> zipfile.ZipFile:
    """A zip file within the limits. Raises Refused where it is beyond them, and what zipfile raises where it is damaged."""
    if list_size(data) > LONGEST_LIST:
        raise Refused(f"This {limits.name} has more parts than are read.", _fewer(limits))
    package = zipfile.ZipFile(io.BytesIO(data))
    parts = package.infolist()
    if len(parts) > MOST_PARTS:
        raise Refused(f"This {limits.name} has {len(parts):,} parts.", _fewer(limits))
    unpacked = sum(part.file_size for part in parts)
    if unpacked > limits.most_bytes:
        what = f"This {limits.name} has {count(unpacked // 1_000_000, 'megabyte')} when it is unpacked."
        raise Refused(what, f"Up to {limits.most_bytes // 1_000_000} are read; {limits.otherwise}.")
    for part in parts:
        if part.file_size > max(ALWAYS_FINE, MOST_TIMES * part.compress_size):
            raise Refused(f"This {limits.name} holds a part that is nothing but padding.", "Save it again.")
        if _ELSEWHERE.match(part.filename):
            what = f"This {limits.name} holds a part that leads out of it: {safe(part.filename)}."
            raise Refused(what, "Do not unpack it; ask where it comes from.")
        if part.flag_bits & 1:
            raise Refused(
                f"This {limits.name} is locked with a password.", "Open it, take the password out, and save it again."
            )
    return package


def _fewer(limits: Limits) -> str:
    return f"Up to {MOST_PARTS:,} are read; {limits.otherwise}."
