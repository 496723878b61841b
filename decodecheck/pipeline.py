"""decodecheck in a spaCy pipeline: `nlp.add_pipe("decodecheck", config={"progression": "school.progression", "step": "14"})`.

It needs nothing of the pipeline but its tokens, so a blank English one does. The text is cut into words as a check cuts it, and each token
is told what is said of the word that it is of: *don't* is one word of two tokens. It sets

- `token._.decodable`: True (decodable, a tricky word that has been taught, or allowed), False (not yet decodable), None where nothing is judged or
  the word is to be checked by eye;
- `token._.graphemes`: the graphemes of the token, a list of strings; empty where its reading is open;
- `doc._.decodability`: a `Decodability`.

spaCy finds the component by the entry point of the package; where that is not installed, `import decodecheck.pipeline` makes it known.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from spacy.language import Language
from spacy.tokens import Doc, Token

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import WordAt
from decodecheck.documents.document import Document
from decodecheck.errors import UserError
from decodecheck.judging.judge import judge_at
from decodecheck.judging.verdict import ALLOWED, BLOCKED, DECODABLE, TRICKY, UNSURE
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.phonics.sounds import project
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve
from decodecheck.progression.step_expression import Standing, Wanted, choose_step
from decodecheck.source import SourceText

NAME = "decodecheck"
SAVED = f"{NAME}.json"
_JUDGED = {DECODABLE: True, TRICKY: True, ALLOWED: True, BLOCKED: False}
_KEPT = "decodecheck"
"""Where the user data of a document has what `Decodability` is made of."""


@dataclass(frozen=True, slots=True)
class Decodability:
    """What is said of a document: the step it was judged at, how many running words are judged, how many of them can be read, how many are to be
    checked by eye, and the different words that cannot be read yet, as they stand first, in the order of the text."""

    step: int
    words: int
    readable: int
    to_check: int
    blocked: tuple[str, ...]

    @property
    def share(self) -> float | None:
        """Which share of the judged words can be read; None where none is judged."""
        return self.readable / self.words if self.words else None


class DecodabilityPipe:
    """The component. Raises UserError where the progression or the step is wrong, as soon as both are there."""

    def __init__(self, progression: str, step: str | None) -> None:
        self.progression, self.step = progression, step
        self.sources: dict[str, str] = {}
        self._checker: Checker | None = None
        if Path(progression).exists():
            self._stand(load(progression))

    def __call__(self, doc: Doc) -> Doc:
        """Judge a document. Raises UserError where the progression cannot be read."""
        checker = self._checker or self._stand(load(self.progression))
        judge = checker.judge
        report = checker.check(Document("doc", doc.text), every_word=True) if doc.text.strip() else None
        counts = report.counts if report else {}
        blocked = [at.word for at in report.words if at.verdict.status == BLOCKED] if report else []
        readable = sum(counts.get(status, 0) for status in (DECODABLE, TRICKY, ALLOWED))
        unsure = counts.get(UNSURE, 0)
        words = readable + unsure + counts.get(BLOCKED, 0)
        # of plain types, so that a document can be written and sent to another process
        first = {word.lower(): word for word in reversed(blocked)}
        in_order = list(dict.fromkeys(first[word.lower()] for word in blocked))
        doc.user_data[_KEPT] = [judge.step, words, readable, unsure, in_order]
        if report:
            _tell_tokens(doc, report)
        return doc

    def _stand(self, order: TeachingOrder) -> Checker:
        standing: Standing = choose_step(order, Wanted(self.step) if self.step is not None else None)
        self.sources = {path: "\n".join(lines) for path, lines in order.sources.items()}
        self._checker = Checker(judge_at(standing.order, standing.step))
        return self._checker

    def __getstate__(self) -> dict[str, Any]:
        """What another process needs: the progression as it was read."""
        return {"progression": self.progression, "step": self.step, "sources": self.sources}

    def __setstate__(self, state: dict[str, Any]) -> None:
        self.progression, self.step, self.sources = state["progression"], state["step"], {}
        self._checker = None
        if state["sources"]:
            self._read_saved(state["sources"])

    def to_bytes(self, *, exclude: Iterable[str] = ()) -> bytes:
        """The component with its progression, so that it works where that file is not."""
        return json.dumps(self.__getstate__()).encode()

    def from_bytes(self, data: bytes, *, exclude: Iterable[str] = ()) -> DecodabilityPipe:
        """The component as it was written. Raises UserError where the progression is of a language that this program does not read."""
        self.__setstate__(json.loads(data))
        return self

    def to_disk(self, path: str | Path, *, exclude: Iterable[str] = ()) -> None:
        """Write the component with its progression into a folder."""
        Path(path).mkdir(parents=True, exist_ok=True)
        (Path(path) / SAVED).write_bytes(self.to_bytes())

    def from_disk(self, path: str | Path, *, exclude: Iterable[str] = ()) -> DecodabilityPipe:
        """The component as it was written into a folder. Raises UserError as `from_bytes` does."""
        return self.from_bytes((Path(path) / SAVED).read_bytes())

    def _read_saved(self, sources: dict[str, str]) -> None:
        (path, text), *_ = sources.items()
        order, problems = resolve(text, path, read=lambda file: SourceText(file, sources[file]))
        wrong = [p for p in problems if not p.note]
        if wrong:
            raise UserError(*wrong)
        self._stand(order)


def _tell_tokens(doc: Doc, report: TextReport) -> None:
    """Tell each token what is said of the words that it has a part in."""
    told: dict[int, list[bool | None]] = {}
    graphemes: dict[int, list[str]] = {}
    number = 0
    for at in report.words:
        while number < len(doc) and doc[number].idx + len(doc[number]) <= at.start:
            number += 1
        found = _graphemes(at, report.order.accent)
        for token in doc[number:]:
            if token.idx >= at.end:
                break
            told.setdefault(token.i, []).append(_JUDGED.get(at.verdict.status))
            inside = range(token.idx - at.start, token.idx - at.start + len(token))
            graphemes.setdefault(token.i, []).extend(g for first, g in found if first in inside)
    for i, judged in told.items():
        # a token of several words can be read where each of them can
        doc[i]._.decodable = False if False in judged else None if None in judged else True
        doc[i]._.graphemes = graphemes[i]


def _graphemes(at: WordAt, accent: str) -> list[tuple[int, str]]:
    """The graphemes of a word, each with the place of its first letter in it; none where its senses are read differently."""
    readings = at.verdict.readings
    alike = {
        tuple((s.grapheme, project(s.grapheme, s.sound, s.linked, accent)) for s in reading.segments)
        for reading in readings
    }
    if len(alike) != 1:
        return []
    origin = plain_spelling(at.word).origin
    last = len(origin) - 1
    return [(origin[min(s.letters[0], last)], s.grapheme) for s in readings[0].segments if s.letters]


def _of_doc(doc: Doc) -> Decodability | None:
    """What the component has said of a document; None where it has not seen it."""
    kept = doc.user_data.get(_KEPT)
    if kept is None:
        return None
    step, words, readable, to_check, blocked = kept
    return Decodability(step, words, readable, to_check, tuple(blocked))


def _extend(kind: type[Doc] | type[Token], name: str, **how: Any) -> None:
    if not kind.has_extension(name):
        kind.set_extension(name, **how)


_extend(Token, "decodable", default=None)
_extend(Token, "graphemes", default=[])
_extend(Doc, "decodability", getter=_of_doc)


@Language.factory(
    NAME,
    default_config={"step": None},
    assigns=["token._.decodable", "token._.graphemes", "doc._.decodability"],
)
def make(nlp: Language, name: str, progression: str, step: str | None) -> Callable[[Doc], Doc]:
    """The component of a pipeline. `progression` is a file, `step` a step expression ("14", "14 also igh as in light"; None: the last step).

    Raises UserError where either is wrong; where there is no such file, when a document comes, since a pipeline that is loaded brings its own.
    """
    return DecodabilityPipe(progression, step)
