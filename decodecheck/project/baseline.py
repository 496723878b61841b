"""A baseline: the findings that were there when it was written, so that only new ones fail.

A file of JSON, schema 1: for each text, as the folder of the baseline names it, and for each kind of finding the plain words with how often
they occur. There are no lines in it, so that it still fits after a text has been edited; everything is in order, one word a line, so
that a change of it can be read.
"""

from __future__ import annotations

import json
import os
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple
from unicodedata import normalize

from decodecheck.bounds import real
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Finding
from decodecheck.errors import Problem, UserError
from decodecheck.lists.report import ListReport
from decodecheck.source import SourceText, read_text, shown

SCHEMA = 1
HEAD = "baseline_schema"
"""The key that says what the file is, and of which schema."""
FILES = "files"
MOST = 1_000_000_000
"""A count above this is a slip."""
ANEW = "Put it right, or take the file away and write it anew with `decodecheck baseline write`."
_SURROGATE = re.compile("[\ud800-\udfff]")
UNSETTLED = re.compile(r"^(<{7}|={7}|>{7}|\|{7})( |$)", re.MULTILINE)
"""Lines that a version control system puts where two versions of a file disagree (git's documentation, "git merge"; from memory)."""


class Key(NamedTuple):
    """What a count is kept for: a file as the folder of the baseline names it, a kind of finding, a word in its plain spelling."""

    file: str
    kind: str
    word: str


@dataclass(frozen=True)
class Baseline:
    """How often each finding was there, by file, kind and word. `path` is where the baseline is, or is to be written."""

    path: str
    counts: Mapping[Key, int]

    def text(self) -> str:
        """The file's content: the same counts always give the same text."""
        tree: dict[str, dict[str, dict[str, int]]] = {}
        for key in sorted(self.counts):
            tree.setdefault(key.file, {}).setdefault(key.kind, {})[key.word] = self.counts[key]
        data = {HEAD: SCHEMA, FILES: tree}
        text = json.dumps(data, indent=2, ensure_ascii=False) + "\n"
        # a name of a file may hold what no encoding has
        return json.dumps(data, indent=2) + "\n" if _SURROGATE.search(text) else text

    def named(self, path: str) -> str:
        """How the baseline names a file: from its own folder on, with slashes, whatever folder the program runs in."""
        return file_name(self.path, path)

    def there(self, file: str) -> bool:
        """Whether a file that the baseline names is there."""
        return os.path.lexists(real(self.path).parent / file)

    def files(self) -> list[str]:
        """The files that the baseline names, as they lie on this disk."""
        return sorted({str(real(self.path).parent / key.file) for key in self.counts})

    def accept(self, report: TextReport | ListReport) -> TextReport | ListReport:
        """A report without the findings that the baseline holds; of more than it counts, the last ones in the order of the file stay."""
        file = self.named(report.path)
        left = dict(self._by_file.get(file, ())) if report.path != shown("-") else {}
        if not left:
            return report
        accepted: set[tuple[int, str]] = set()
        for finding in report.findings:
            key, place = Key(file, finding.kind, finding.plain), (finding.start, finding.kind)
            if left.get(key, 0) > 0 and place not in accepted:
                left[key] -= 1
                accepted.add(place)
        return replace(report, accepted=frozenset(accepted)) if accepted else report

    @cached_property
    def _by_file(self) -> dict[str, list[tuple[Key, int]]]:
        found: dict[str, list[tuple[Key, int]]] = {}
        for key, number in self.counts.items():
            found.setdefault(key.file, []).append((key, number))
        return found


def counted(file: str, findings: Iterable[Finding]) -> Counter[Key]:
    """How often each finding of a file is there; what is told twice of one place counts once."""
    places = {(Key(file, finding.kind, finding.plain), finding.start) for finding in findings}
    return Counter(key for key, _ in places)


def file_name(baseline: str, path: str) -> str:
    """How a baseline names a file."""
    folder, target = real(baseline).parent, real(path)
    try:
        name = os.path.relpath(target, folder)
    except ValueError:  # on another drive
        name = str(target)
    # one system writes é as one character, another as two
    return normalize("NFC", name.replace(os.sep, "/"))


def read_baseline(path: str) -> Baseline:
    """Read a baseline. Raises UserError, with the place, for what is none, is damaged, or is of another schema."""
    if path == "-":
        raise UserError(Problem("--baseline", "A baseline is a file.", "Name one."))
    if not os.path.lexists(path):
        todo = "Check the path, or write it with `decodecheck baseline write`."
        raise UserError(Problem(shown(path), "There is no such file.", todo))
    source = read_text(path)
    data = _parsed(source)
    if not isinstance(data, dict) or HEAD not in data:
        todo = "Name a file that `decodecheck baseline write` has written."
        raise UserError(Problem(source.path, "This is no baseline of decodecheck.", todo))
    if data[HEAD] != SCHEMA or isinstance(data[HEAD], bool):
        what = f"This baseline has the schema {json.dumps(data[HEAD])}; this decodecheck knows schema {SCHEMA}."
        todo = "Use the decodecheck that wrote it, or take the file away and write it anew with `decodecheck baseline write`."
        raise UserError(_at(source, HEAD, what, todo))
    for key in data:
        if key not in (HEAD, FILES):
            raise UserError(_at(source, key, f"`{key}` is no key of a baseline.", ANEW))
    return Baseline(path, dict(_counts(source, data.get(FILES))))


def _counts(source: SourceText, files: object) -> Iterator[tuple[Key, int]]:
    if not isinstance(files, dict):
        raise UserError(_at(source, FILES, "The files of this baseline are missing.", ANEW))
    for file, kinds in files.items():
        if not isinstance(kinds, dict):
            raise UserError(_at(source, file, "This file has no kinds of findings.", ANEW))
        for kind, words in kinds.items():
            if not isinstance(words, dict):
                raise UserError(_at(source, kind, "This kind of finding has no words.", ANEW, after=(file,)))
            for word, number in words.items():
                if not isinstance(number, int) or isinstance(number, bool) or not 1 <= number <= MOST:
                    what = "This word has no count: a whole number from 1 on."
                    raise UserError(_at(source, word, what, ANEW, after=(file, kind)))
                yield Key(normalize("NFC", file), kind, word), number


class _Twice(Exception):
    """A key stands twice in one table."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise _Twice(key)
        found[key] = value
    return found


def _parsed(source: SourceText) -> Any:
    """The JSON of a file. Raises UserError."""
    text = source.text
    merge = UNSETTLED.search(text)
    if merge:
        what = "Two versions of this file were put together here, and not settled."
        raise UserError(_marked(source, merge.start(), what, ANEW, len(merge[0].rstrip())))
    try:
        return json.loads(text, object_pairs_hook=_once)
    except json.JSONDecodeError as error:
        if not text.strip():
            what = "This file is empty, and no baseline."
            raise UserError(Problem(source.path, what, ANEW)) from None
        what = "This baseline breaks off here." if error.pos >= len(text.rstrip()) else "This is no JSON from here on."
        raise UserError(_marked(source, min(error.pos, len(text.rstrip()) - 1), what, ANEW)) from None
    except _Twice as error:
        key = str(error)
        first = text.find(json.dumps(key, ensure_ascii=False))
        raise UserError(_at(source, key, f"`{key}` stands twice in one table.", ANEW, start=first + 1)) from None
    except (RecursionError, ValueError):
        raise UserError(Problem(source.path, "This is no baseline of decodecheck.", ANEW)) from None


def _at(source: SourceText, key: str, what: str, todo: str, *, after: tuple[str, ...] = (), start: int = 0) -> Problem:
    """What is wrong with a key of the file, which stands after others."""
    at = start
    for name in (*after, key):
        written = (json.dumps(name, ensure_ascii=odd) for odd in (False, True))
        places = [place for place in (source.text.find(text, at) for text in written) if place >= 0]
        if not places:
            return Problem(source.path, what, todo)
        at = min(places)
    return _marked(source, at, what, todo, len(key) + 2)


def _marked(source: SourceText, offset: int, what: str, todo: str, width: int = 1) -> Problem:
    line, column = source.place(offset)
    return Problem(source.path, what, todo, line, column, source.line(line), width)


def refuse_other_file(path: str) -> None:
    """Raises UserError where a baseline would be written over a file that is none."""
    if os.path.lexists(path) and Path(path).is_file():
        try:
            read_baseline(path)
        except UserError:
            what = "This file is there, and is no baseline that can be read; it is not written over."
            raise UserError(Problem(shown(path), what, "Name another file, or take this one away first.")) from None
