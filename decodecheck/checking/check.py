"""Check a text: cut it, judge each distinct word once, settle what depends on its place, report with positions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from decodecheck.checking.judge import Judge
from decodecheck.checking.kinds import WARNING, Context, kinds
from decodecheck.checking.verdict import ALLOWED, DECODABLE, STATUSES, TRICKY, UNJUDGED, Blocker, Verdict
from decodecheck.documents.words import STRETCH, Cut, cut
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.source import SourceText

PIECE = 1 << 18
"""Characters of a text that are held as a list of stretches at a time."""
_ENDS_SENTENCE = (
    ".",
    "!",
    "?",
    "…",
    ":",
    '."',
    '!"',
    '?"',
    ".”",
    "!”",
    "?”",
    ".'",
    "!'",
    "?'",
    ".’",
    "!’",
    "?’",
    ".)",
    "…”",
)
_OPENING = "\"'“‘(["


@dataclass(frozen=True, slots=True)
class Finding:
    """One occurrence of a word that is not plainly fine. Offsets are into the text; lines and columns 1-based, end exclusive."""

    kind: str
    severity: str
    word: str
    status: str
    start: int
    end: int
    line: int
    column: int
    end_line: int
    end_column: int
    blockers: tuple[Blocker, ...]
    message: str
    remedy: str


@dataclass(frozen=True, slots=True)
class WordAt:
    """One occurrence of any word, with its verdict."""

    word: str
    start: int
    end: int
    verdict: Verdict


@dataclass
class TextReport:
    """Everything that is said of one text."""

    source: SourceText
    step: int
    counts: Counter[str] = field(default_factory=Counter)
    findings: list[Finding] = field(default_factory=list)
    distinct: dict[str, Verdict] = field(default_factory=dict)
    running: Counter[str] = field(default_factory=Counter)
    words: list[WordAt] = field(default_factory=list)
    unjudged: Counter[str] = field(default_factory=Counter)

    @property
    def errors(self) -> int:
        """How many findings are errors."""
        return sum(f.severity != WARNING for f in self.findings)

    def distinct_counts(self) -> Counter[str]:
        """Distinct words (not minding capitals) by status."""
        return Counter(v.status for v in self.distinct.values())

    def ready_step(self) -> int | None:
        """The first step at which every judged word can be read; None if no step does it."""
        steps = [v.first_step for v in self.distinct.values() if v.status not in (ALLOWED, UNJUDGED)]
        latest = max(steps, default=0)
        return None if latest == NEVER else latest

    def holding_back(self) -> list[tuple[str, int]]:
        """Distinct words with their first step, latest first; allowed ones and those that are not judged left out."""
        pairs = [(w, v.first_step) for w, v in self.distinct.items() if v.status not in (ALLOWED, UNJUDGED)]
        return sorted(pairs, key=lambda p: (-p[1], p[0]))


@dataclass(frozen=True, slots=True)
class _Entry:
    """A distinct stretch: its cuts with forms and verdicts; `plain` if nothing in it needs a place."""

    parts: tuple[tuple[Cut, str, Verdict], ...]
    plain: bool
    hyphen: bool


class Checker:
    """Checks texts against one judge; stretches seen in one text are known in the next."""

    def __init__(self, judge: Judge) -> None:
        self.judge = judge
        self._entries: dict[str, _Entry] = {}
        self._not_plain: set[str] = set()

    def check(self, source: SourceText, *, every_word: bool = False) -> TextReport:
        """The report on one text. `every_word` also lists the words that are fine."""
        report = TextReport(source, self.judge.step)
        tally: Counter[str] = Counter()
        settled: Counter[str] = Counter()
        for start, piece in _pieces(source.text):
            stretches = STRETCH.findall(piece)
            tally.update(stretches)
            distinct = set(stretches)
            for stretch in distinct.difference(self._entries):
                entry = self._entries[stretch] = self._analyse(stretch)
                if not entry.plain:
                    self._not_plain.add(stretch)
            if every_word or not distinct.isdisjoint(self._not_plain):
                self._place(report, piece, start, settled, every_word)
        for stretch, times in tally.items():
            for part in self._entries[stretch].parts:
                self._count(report, part, times - settled[stretch])
        report.findings.sort(key=lambda f: f.start)
        return report

    def _analyse(self, stretch: str) -> _Entry:
        parts = []
        plain = True
        for piece in cut(stretch):
            form = stretch[piece.start : piece.end]
            if piece.kind != "word":
                verdict = Verdict(UNJUDGED, detail=piece.kind)
            else:
                verdict = self.judge.judge(form)
                plain = plain and verdict.status in (DECODABLE, TRICKY, ALLOWED, UNJUDGED)
                if self.judge.order.skip_names and self.judge.is_name(form):
                    plain = False
            parts.append((piece, form, verdict))
        hyphen = len(stretch) > 1 and stretch[-1] in "-\u2010\u00ad" and stretch[-2].isalpha()
        return _Entry(tuple(parts), plain and not hyphen, hyphen)

    def _count(self, report: TextReport, part: tuple[Cut, str, Verdict], times: int) -> None:
        if times <= 0:
            return
        _, form, verdict = part
        report.counts[verdict.status] += times
        if verdict.status == UNJUDGED:
            report.unjudged[form] += times
            return
        plain = plain_spelling(form).plain
        old = report.distinct.get(plain)
        if old is None or STATUSES.index(verdict.status) > STATUSES.index(old.status):
            report.distinct[plain] = verdict
        report.running[plain] += times

    def _place(self, report: TextReport, piece: str, offset: int, settled: Counter[str], every_word: bool) -> None:
        """Go through a piece in order, with positions, for the stretches that need them."""
        not_plain, entries = self._not_plain, self._entries
        previous: tuple[str, int] | None = None
        skip_to = -1
        for match in STRETCH.finditer(piece):
            stretch = match[0]
            if match.start() < skip_to:
                previous = (stretch, match.end())
                continue
            if stretch in not_plain or every_word:
                entry = entries[stretch]
                settled[stretch] += 1
                joined = self._joined(piece, match.start(), entry, stretch) if entry.hyphen else None
                parts = entry.parts
                if joined:
                    form, end, after = joined
                    settled[after] += 1
                    parts = (
                        *parts[:-1],
                        (Cut(parts[-1][0].start, end - match.start(), "word"), form, self.judge.judge(_unbroken(form))),
                    )
                    for rest in entries[after].parts[1:] if after in entries else ():
                        self._count(report, rest, 1)
                    skip_to = end
                starts = _starts_sentence(piece, match.start(), previous)
                for index, (span, form, verdict) in enumerate(parts):
                    verdict, kind = self._settle(form, verdict, starts and index == 0)
                    self._count(report, (span, _unbroken(form) if "\n" in form else form, verdict), 1)
                    self._record(
                        report,
                        verdict,
                        kind,
                        form,
                        offset + match.start() + span.start,
                        offset + match.start() + span.end,
                        every_word,
                    )
            previous = (stretch, match.end())

    def _settle(self, form: str, verdict: Verdict, starts: bool) -> tuple[Verdict, str]:
        """What the place decides: whether a form with a capital is a name."""
        if form[:1].isupper() and not starts and self.judge.is_name(form):
            if self.judge.order.skip_names:
                return Verdict(ALLOWED, first_step=0), ""
            if verdict.kind == "unlisted-word":
                return verdict, "unlisted-name"
        return verdict, verdict.kind

    def _joined(self, piece: str, start: int, entry: _Entry, stretch: str) -> tuple[str, int, str] | None:
        """A word divided at the end of a line: (form with the line break, its end, the stretch that follows), if it is one."""
        end = start + len(stretch)
        line_end = piece[end : end + 2]
        if not line_end.startswith(("\n", "\r\n")) or not entry.parts or entry.parts[-1][0].kind != "word":
            return None
        following = STRETCH.search(piece, end)
        if (
            not following
            or "\n" in piece[end : following.start()].strip(" \t\r").lstrip("\n")
            or piece.count("\n", end, following.start()) != 1
        ):
            return None
        cuts = cut(following[0])
        if not cuts or cuts[0].kind != "word" or cuts[0].start != 0 or not following[0][0].islower():
            return None
        form = piece[start + entry.parts[-1][0].start : following.start() + cuts[0].end]
        lookup = self.judge.lookup
        if not lookup.readings(plain_spelling(_unbroken(form)).plain):
            return None
        return form, following.start() + cuts[0].end, following[0]

    def _record(
        self, report: TextReport, verdict: Verdict, kind: str, form: str, start: int, end: int, every_word: bool
    ) -> None:
        if every_word and verdict.status != UNJUDGED:
            report.words.append(WordAt(form, start, end, verdict))
        if not kind:
            return
        finding_kind = kinds()[kind]
        message, remedy = finding_kind.say(verdict, Context(_unbroken(form), self.judge.step))
        line, column = report.source.place(start)
        end_line, end_column = report.source.place(end)
        report.findings.append(
            Finding(
                kind,
                finding_kind.severity,
                form,
                verdict.status,
                start,
                end,
                line,
                column,
                end_line,
                end_column,
                verdict.blockers,
                message,
                remedy,
            )
        )


def _unbroken(form: str) -> str:
    """A word that a line end divides, in one piece."""
    if "\n" not in form and "\r" not in form:
        return form
    head, _, tail = form.partition("\n")
    return head.rstrip("\r \t").rstrip("-\u2010\u00ad") + tail.strip()


def _pieces(text: str) -> Iterator[tuple[int, str]]:
    """The text in pieces that end with a line, but not one that a hyphen ends."""
    start = 0
    while start < len(text):
        end = start + PIECE
        if end >= len(text):
            yield start, text[start:]
            return
        at = text.find("\n", end)
        while at > 0 and text[:at].rstrip("\r")[-1:] in "-\u2010\u00ad":
            at = text.find("\n", at + 1)
        at = len(text) if at < 0 else at + 1
        yield start, text[start:at]
        start = at


def _starts_sentence(piece: str, start: int, previous: tuple[str, int] | None) -> bool:
    """Does a sentence start here: after a full stop or the like, a blank line, or with an opening quotation mark?"""
    if previous is None or piece[start] in _OPENING:
        return True
    before, end = previous
    return before.endswith(_ENDS_SENTENCE) or piece.count("\n", end, start) > 1
