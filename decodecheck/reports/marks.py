"""Words and texts with what stands in the way in brackets: br[ea]d, [wh][i]t[e]."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from decodecheck.checking.report import TextReport, where_they_stand
from decodecheck.errors import cut
from decodecheck.judging.verdict import BLOCKED, Blocker
from decodecheck.printing import columns


def mark(word: str, blockers: Sequence[Blocker]) -> str:
    """A word with the letters of each blocker in brackets of their own; those of a split digraph one by one. The end of a very
    long word is cut off."""
    shown = cut(word)
    return "".join(_bracketed(shown, owners(shown, blockers)))


def owners(word: str, blockers: Iterable[Blocker]) -> dict[int, int]:
    """The number of the blocker that each letter belongs to."""
    found: dict[int, int] = {}
    for number, blocker in enumerate(blockers):
        for i in blocker.letters:
            found.setdefault(i, number)
    for i, letter in enumerate(word):
        if i - 1 in found and i not in found and not columns(letter):
            found[i] = found[i - 1]  # an accent stays with its letter
    return found


def _bracketed(text: str, owned: dict[int, int]) -> Iterable[str]:
    for i, letter in enumerate(text):
        own = owned.get(i)
        if own is not None and owned.get(i - 1) != own:
            yield "["
        yield letter
        if own is not None and (owned.get(i + 1) != own or i + 1 == len(text)):
            yield "]"


def marked_text(report: TextReport) -> str:
    """The text as it reads, with what stands in the way of its words in brackets; words that are to be checked by eye end in [?]."""
    text, parts, at = report.document.text, [], 0
    for start, end, number in zip(report.starts, report.ends, report.which):
        verdict = report.verdict(report.entries[number])
        word = text[start:end]
        if verdict.status == BLOCKED:
            hindrance = where_they_stand(verdict.blockers, word, report.entries[number].form)
            word = "".join(_bracketed(word, owners(word, hindrance))) if hindrance else f"[{word}]"
        elif verdict.status == "unsure":
            word += "[?]"
        else:
            continue
        parts += [text[at:start], word]
        at = end
    return "".join([*parts, text[at:]])
