"""Words and texts with what stands in the way in brackets: br[ea]d, [wh][i]t[e]."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from decodecheck.checking.report import TextReport
from decodecheck.checking.values import where_they_stand
from decodecheck.errors import cut
from decodecheck.judging.verdict import BLOCKED, Blocker
from decodecheck.printing import columns
from decodecheck.reports.emphasis import BRACKETS, Signs


def mark(word: str, blockers: Sequence[Blocker], signs: Signs = BRACKETS) -> str:
    """A word with the letters of each blocker in brackets of their own; those of a split digraph one by one. The end of a very
    long word is cut off."""
    shown = cut(word)
    return "".join(_bracketed(shown, owners(shown, blockers), signs))


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


def _bracketed(text: str, owned: dict[int, int], signs: Signs) -> Iterable[str]:
    for i, letter in enumerate(text):
        own = owned.get(i)
        if own is not None and owned.get(i - 1) != own:
            yield signs.before
        yield letter
        if own is not None and (owned.get(i + 1) != own or i + 1 == len(text)):
            yield signs.after


def marked_text(report: TextReport, signs: Signs = BRACKETS) -> str:
    """The text as it reads, with what stands in the way of its words in brackets; words that are to be checked by eye end in [?]."""
    text, parts, at = report.document.text, [], 0
    for start, end, entry in report.sites:
        verdict = report.verdict(entry)
        word = text[start:end]
        if verdict.status == BLOCKED:
            hindrance = where_they_stand(verdict.blockers, word, entry.form)
            owned = owners(word, hindrance) if hindrance else dict.fromkeys(range(len(word)), 0)
            word = "".join(_bracketed(word, owned, signs))
        elif verdict.status == "unsure":
            word += "[?]"
        else:
            continue
        parts += [text[at:start], word]
        at = end
    return "".join([*parts, text[at:]])
