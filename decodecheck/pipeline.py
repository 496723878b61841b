"""decodecheck in a spaCy pipeline: `nlp.add_pipe("decodecheck", config={"progression": "school.progression", "step": "14"})`.

It needs nothing of the pipeline but its tokens, so a blank English one does. The text is cut into words as a check cuts it, and each token
is told what is said of the word that it is of: *don't* is one word of two tokens, and what is said of it is said of both. It sets

- `token._.decodable`: True (decodable, a tricky word that has been taught, or allowed), False (not yet decodable), None where nothing is judged or
  the word is to be checked by eye. The parts of a word with hyphens that is none by itself are judged each alone: of *ship-shape*, *ship* may be
  True and *shape* False. A token without letters is None (the hyphen), and so is one that holds letters of which no word is judged (*a.m.*);
- `token._.graphemes`: the graphemes that begin in the token, a list of strings; empty where its reading is open;
- `doc._.decodability`: a `Decodability`.

spaCy finds the component by the entry point of the package; where that is not installed, `import decodecheck.pipeline` makes it known.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from spacy.language import Language
from spacy.tokens import Doc, Token

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import WordAt
from decodecheck.documents.document import Document
from decodecheck.errors import UserError
from decodecheck.judging.hyphens import pieces
from decodecheck.judging.judge import Judge, judge_at
from decodecheck.judging.verdict import ALLOWED, BLOCKED, DECODABLE, TRICKY, UNJUDGED, UNSURE, Verdict
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
    judge = report.judge
    told: dict[int, list[bool | None]] = {}
    graphemes: dict[int, list[str]] = {}
    letters: dict[int, int] = {}
    """How many letters of a token are of words that are judged."""
    number = 0
    for as_it_stands, (_, _, entry) in zip(report.words, report.sites, strict=True):
        # a word that a line end divides is judged without its hyphen
        at = replace(as_it_stands, word=entry.form)
        while number < len(doc) and doc[number].idx + len(doc[number]) <= at.start:
            number += 1
        places = _places(at, doc.text)
        own = _parts(at, judge)
        found = [(places[first], grapheme) for part in own for first, grapheme in _graphemes(part, report.order.accent)]
        parts = [(places[p.letters[0]], places[p.letters[-1]] + 1, _JUDGED.get(p.verdict.status)) for p in own]
        for token in doc[number:]:
            if token.idx >= at.end:
                break
            start, end = token.idx, token.idx + len(token)
            here = [judged for first, last, judged in parts if first < end and last > start]
            # of what is stuttered (b-b-but) the last part is judged, which says it of all
            told.setdefault(token.i, []).extend(here or [_JUDGED.get(at.verdict.status)])
            graphemes.setdefault(token.i, []).extend(g for place, g in found if start <= place < end)
            within = doc.text[max(start, at.start) : min(end, at.end)]
            letters[token.i] = letters.get(token.i, 0) + sum(map(str.isalpha, within))
    for i, judged in told.items():
        text = doc[i].text
        number_of = sum(map(str.isalpha, text))
        if number_of and False in judged:
            doc[i]._.decodable = False
        elif number_of and None not in judged and letters[i] == number_of:
            doc[i]._.decodable = True
        doc[i]._.graphemes = graphemes[i]


def _places(at: WordAt, text: str) -> list[int]:
    """Where each character of a word stands in the text: a line end may divide it, and is none of it."""
    found, place = [], at.start
    for character in at.word:
        while text[place] != character and place + 1 < at.end:
            place += 1
        found.append(place)
        place = min(place + 1, at.end - 1)
    return found


@dataclass(frozen=True, slots=True)
class _Part:
    """A part of a word that is judged by itself: its form, where its characters stand in the word, and what is said of it."""

    form: str
    letters: tuple[int, ...]
    verdict: Verdict


def _parts(at: WordAt, judge: Judge) -> list[_Part]:
    """The parts of a word that are judged each by itself, those of ship-shape; most words have one."""
    whole = [_Part(at.word, tuple(range(len(at.word))), at.verdict)]
    spelling = plain_spelling(at.word)
    if at.verdict.status in (TRICKY, ALLOWED) or "-" not in spelling.plain or judge.lookup.knows(spelling.plain):
        return whole
    found = []
    for piece in pieces(spelling, judge.lookup):
        form = piece.form(at.word)
        verdict = judge.judge(form)
        # a letter by itself (e-mail) goes with its word
        if verdict.status != UNJUDGED:
            found.append(_Part(form, tuple(dict.fromkeys(piece.origin)), verdict))
    return found or whole


def _graphemes(part: _Part, accent: str) -> list[tuple[int, str]]:
    """The graphemes of a part, each with the place of its first letter in the word; none where its senses are read differently."""
    readings = part.verdict.readings
    alike = {
        tuple((s.grapheme, project(s.grapheme, s.sound, s.linked, accent)) for s in reading.segments)
        for reading in readings
    }
    if len(alike) != 1:
        return []
    origin = plain_spelling(part.form).origin
    last = len(origin) - 1
    return [(part.letters[origin[min(s.letters[0], last)]], s.grapheme) for s in readings[0].segments if s.letters]


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
