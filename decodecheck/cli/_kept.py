"""Answers of `check` that are kept: what was printed is printed again where the same is asked of the same files."""

from __future__ import annotations

import codecs
import json
import os
import time
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING, Any

import click

from decodecheck.cli._reports import Destination, Files, finish
from decodecheck.cli._streams import write_document
from decodecheck.project import looked_at
from decodecheck.project.kept import Kept, cache_folder

if TYPE_CHECKING:
    from decodecheck.session import Session

WHOLE_TEXTS = ("html",)
"""Formats that show a text as it reads: these are not kept, so that no story lies about in another place."""
UNKEPT = ("fix", "every_word", "watch", "changed_since", "governed")
"""Options with which nothing is kept: they change files, name every word of a text, or ask what git knows."""
NO_INPUTS = ("files", "outputs", "no_cache")
LARGEST = 8_000_000
"""Bytes of the packed reports that are kept."""
CHUNK = 1 << 16
TICK = 50_000_000
"""Nanoseconds: the clock of a disk goes in steps, and may be a little behind."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a check has said: each report, packed, what was noted on standard error, the exit code, and the files that were read. `to_the_letter`
    where standard output is for programs."""

    reports: tuple[bytes, ...]
    notes: tuple[str, ...]
    code: int
    read: tuple[str, ...]
    to_the_letter: bool


class Asked:
    """What is asked of a check, with all that its answer depends on as it stands now."""

    def __init__(self, parameters: Mapping[str, Any], kept: Kept) -> None:
        self._kept = kept
        self._paths: Sequence[str] = parameters["files"]
        # whatever an option names that is a file may be read
        self._named = [
            value
            for name, given in parameters.items()
            if name not in NO_INPUTS
            for value in (given if isinstance(given, tuple) else (given,))
            if isinstance(value, str) and "\0" not in value and os.path.lexists(value)
        ]
        options = {name: value for name, value in parameters.items() if name != "no_cache"}
        self._options = json.dumps(options, sort_keys=True, default=repr)
        self._reports: list[Packing] | None = [Packing() for _ in range(1 + len(parameters["outputs"]))]
        self._start = time.time_ns() - TICK
        self._program = self._state_of_program()
        self._question = self._names()

    def _state_of_program(self) -> bytes:
        state = looked_at.digest_of("program", looked_at.state_of_program())
        known = self._kept.get(state)
        if known is None:
            known = looked_at.program()
            self._kept.put(state, known)
        return known

    def _names(self) -> bytes:
        return looked_at.digest_of("names", self._program, self._options, looked_at.names(self._paths, self._named))

    def answer(self) -> Answer | None:
        """The answer that was given before to the same question, when everything it depends on was as it is now."""
        known = self._kept.get(self._question)
        if known is None:
            return None
        contents, _ = looked_at.contents(self._inputs(json.loads(known)))
        kept = self._kept.get(self._key(contents))
        return read(kept) if kept is not None else None

    def _inputs(self, read: Iterable[str]) -> list[str]:
        return [*dict.fromkeys([*read, *self._named])]

    def _key(self, contents: bytes) -> bytes:
        return looked_at.digest_of("answer", self._question, contents)

    def add(self, number: int, piece: str) -> None:
        """A piece of one of the reports, on its way to where it is wanted."""
        if self._reports is not None and piece:
            self._reports[number].add(piece)
            if sum(report.size for report in self._reports) > LARGEST:
                self._reports = None

    def keep(self, session: Session, notes: Sequence[str], code: int, *, to_the_letter: bool) -> None:
        """Keep the answer, unless something it depends on has changed while it was worked out."""
        states = session.looked_at()
        if self._reports is None or states is None:
            return
        inputs = self._inputs(states)
        contents, youngest = looked_at.contents(inputs)
        try:
            same = self._names() == self._question and all(
                state is None or looked_at.state_of(path) == state for path, state in states.items()
            )
        except (OSError, ValueError):
            return
        if not same or youngest >= self._start:
            return
        reports = tuple(report.whole() for report in self._reports)
        answer = Answer(reports, tuple(notes), code, tuple(session.inputs()), to_the_letter)
        self._kept.put(self._question, json.dumps([*states]).encode())
        self._kept.put(self._key(contents), written(answer))


class Packing:
    """A report on its way to be kept."""

    def __init__(self) -> None:
        self._packer = zlib.compressobj(1)
        self._pieces: list[bytes] = []
        self.size = 0

    def add(self, piece: str) -> None:
        """Pack the next piece of its text."""
        self._take(self._packer.compress(piece.encode("utf-8", "surrogatepass")))

    def whole(self) -> bytes:
        """All of it, packed; nothing can be added any more."""
        self._take(self._packer.flush())
        return b"".join(self._pieces)

    def _take(self, packed: bytes) -> None:
        self._pieces.append(packed)
        self.size += len(packed)


def unpacked(report: bytes) -> Iterator[str]:
    """The text of a report, piece by piece."""
    unpacker = zlib.decompressobj()
    decoder = codecs.getincrementaldecoder("utf-8")("surrogatepass")
    while report:
        yield decoder.decode(unpacker.decompress(report, CHUNK))
        report = unpacker.unconsumed_tail


def written(answer: Answer) -> bytes:
    """An answer as it is kept."""
    sizes = [len(report) for report in answer.reports]
    head = json.dumps([sizes, answer.notes, answer.code, answer.read, answer.to_the_letter])
    return b"".join((head.encode(), b"\n", *answer.reports))


def read(value: bytes) -> Answer:
    """An answer that was kept."""
    head, _, rest = value.partition(b"\n")
    sizes, notes, code, read, to_the_letter = json.loads(head)
    ends = [*accumulate(sizes)]
    reports = tuple(rest[end - size : end] for size, end in zip(sizes, ends))
    return Answer(reports, tuple(notes), code, tuple(read), to_the_letter)


def asked(parameters: Mapping[str, Any], formats: Iterable[str], *, shown_whole: bool) -> Asked | None:
    """What is asked of a check, if its answer may be kept; `shown_whole` where the texts themselves are printed in a terminal."""
    if parameters["no_cache"] or shown_whole or any(parameters.get(name) for name in UNKEPT):
        return None
    if "-" in parameters["files"] or not set(WHOLE_TEXTS).isdisjoint(formats):
        return None
    folder = cache_folder()
    try:
        return Asked(parameters, Kept(folder)) if folder else None
    except (OSError, ValueError):
        # what cannot be looked at is told by the check
        return None


def told_again(answer: Answer, wanted: Sequence[Destination], inputs: Iterable[str]) -> int:
    """Say what was said before; returns the exit code."""
    with ExitStack() as stack:
        into_files = Files(wanted[1:], stack)
        for number, report in enumerate(answer.reports):
            for piece in unpacked(report):
                if number:
                    into_files.add(number - 1, piece)
                elif answer.to_the_letter:
                    write_document(piece)
                else:
                    click.echo(piece, nl=False)
        return finish(into_files, [*answer.read, *inputs], answer.notes, answer.code)
