"""The page of a comparison: what moved, words gained and lost, texts whose verdict changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from decodecheck.errors import count
from decodecheck.insight.compare import COMMON, Comparison, Moved, StepChange, TextChange, WordChange
from decodecheck.judging.verdict import LABELS
from decodecheck.reports.page import Block, Entry, Heading, Page, Paragraph, Table
from decodecheck.reports.records import failure_record, place_record
from decodecheck.run import Failure

MOST_WORDS = 14


MOST_PLACES = 4


def page(c: Comparison, texts: Sequence[TextChange] | None, checked: int, since: str = "") -> Page:
    """The page. `texts` are those that change, None where no texts were given; `checked` how many were compared. `since` names the state
    in git that the old progression is of, if it is."""
    compared = (
        f"{c.new.path} compared with what it was at {since}" if since else f"{c.old.path} compared with {c.new.path}"
    )
    return Page(f"{c.old.name}: what changes", compared, tuple(_blocks(c, texts, checked)))


def record(
    c: Comparison, texts: Sequence[TextChange] | None, checked: int, failures: Sequence[Failure], since: str = ""
) -> dict[str, Any]:
    """The comparison for programs, schema 1 (`comparison-1.schema.json` beside this file)."""
    return {
        "schema": 1,
        "old": {"path": c.old.path, "name": c.old.name, "accent": c.old.accent, "at": since or None},
        "new": {"path": c.new.path, "name": c.new.name, "accent": c.new.accent},
        "steps": {
            "matched": [{"old": old, "new": new} for old, new in c.matched.items()],
            "gone": list(c.dropped),
            "new": list(c.added),
        },
        "settings": list(c.settings),
        "lessons": [{"lesson": m.name, "old_step": m.old, "new_step": m.new} for m in c.moved],
        "words": [
            {"old_step": s.old, "new_step": s.new, "gained": list(s.gained), "lost": list(s.lost)} for s in c.steps
        ],
        "compared": None if texts is None else checked,
        "texts": None if texts is None else [_text_record(text) for text in texts],
        "failures": [failure_record(failure) for failure in failures],
    }


def _text_record(text: TextChange) -> dict[str, Any]:
    return {
        "path": text.path,
        "accent": text.accent,
        "old_step": text.old_step,
        "new_step": text.new_step,
        "blocked_before": text.blocked_before,
        "blocked_after": text.blocked_after,
        "broken": text.broken,
        "words": [
            {
                "word": word.word,
                "before": word.before,
                "after": word.after,
                "reason": word.reason or None,
                "places": [place_record(place) for place in word.places],
            }
            for word in text.words
        ],
    }


def _blocks(c: Comparison, texts: Sequence[TextChange] | None, checked: int) -> Iterator[Block]:
    yield from _steps(c)
    if c.settings:
        yield Heading("Outside the steps")
        yield from (Paragraph(line) for line in c.settings)
    yield Heading("Lessons that moved")
    if c.moved:
        yield Table(("Lesson", "Was taught at step", "Is taught at step"), tuple(map(_moved, c.moved)))
    else:
        yield Paragraph("None.")
    yield Heading(f"Readable words gained and lost, of the {COMMON} commonest, in {_accents(c)}")
    if c.steps:
        before: StepChange | None = None
        for run in _runs(c.steps):
            yield _words(run, before)
            before = run[-1]
    else:
        yield Paragraph("None.")
    if texts is not None:
        yield Heading("Texts")
        yield from _texts(texts, checked, c)


def _accents(c: Comparison) -> str:
    """The accent, or the two, in which the progressions are read."""
    old, new = c.old.accent, c.new.accent
    return old if old == new else f"{old} before and {new} now"


def _steps(c: Comparison) -> Iterator[Block]:
    old, new = ({s.number: s.title for s in order.steps} for order in (c.old, c.new))
    taken = list(c.matched.values())
    lines = list(_renumbered([(a, b) for a, b in c.renumbered if taken.count(b) == 1], old, new))
    lines += [
        f"{_step(n, old[n])} is divided: now steps {c.matched[n]} to {b}"
        for n, b in c.stands.items()
        if b > c.matched.get(n, b)
    ]
    for b in new:
        joined = [str(a) for a, m in c.matched.items() if m == b]
        if len(joined) > 1:
            lines.append(f"steps {' and '.join(joined)} are one, step {b}")
    lines += [f"{_step(n, old[n])} is gone" for n in c.dropped]
    lines += [f"{_step(n, new[n])} is new" for n in c.added]
    if lines:
        yield Heading("Steps")
        yield Paragraph("; ".join(lines) + ".")


def _renumbered(pairs: Sequence[tuple[int, int]], old: dict[int, str], new: dict[int, str]) -> Iterator[str]:
    """One phrase for a run of steps that all moved as far and kept their titles."""
    runs: list[list[tuple[int, int]]] = []
    for a, b in pairs:
        last = runs[-1][-1] if runs else None
        if last and old[a] == new[b] and old[last[0]] == new[last[1]] and (a, b) == (last[0] + 1, last[1] + 1):
            runs[-1].append((a, b))
        else:
            runs.append([(a, b)])
    for run in runs:
        (a, b), (last_a, last_b) = run[0], run[-1]
        if len(run) > 1:
            yield f"steps {a} to {last_a} are now {b} to {last_b}"
        elif old[a] and not new[b]:
            yield f"{_step(a, old[a])} is now step {b}, without a title"
        else:
            yield f"{_step(a, old[a])} is now {_step(b, new[b])}"


def _step(number: int, title: str) -> str:
    return f'step {number} "{title}"' if title else f"step {number}"


def _moved(m: Moved) -> tuple[str, str, str]:
    return m.name, str(m.old or "never"), str(m.new or "never")


def _runs(steps: Sequence[StepChange]) -> list[list[StepChange]]:
    """Steps one after another at which the same words are gained and lost."""
    runs: list[list[StepChange]] = []
    for s in steps:
        if runs and (runs[-1][-1].gained, runs[-1][-1].lost) == (s.gained, s.lost):
            runs[-1].append(s)
        else:
            runs.append([s])
    return runs


def _words(run: Sequence[StepChange], before: StepChange | None) -> Entry:
    """The words of a run of steps; those that are lost or gained at the step before, too, are only counted."""
    s, last = run[0], run[-1]
    label = f"step {s.old}" if len(run) == 1 else f"steps {s.old} to {last.old}"
    parts = []
    for what, words in (("gained", s.gained), ("lost", s.lost)):
        if words:
            known = set(getattr(before, what)) if before else set()
            fresh = [w for w in words if w not in known]
            more = f" and {len(fresh) - MOST_WORDS} more" if len(fresh) > MOST_WORDS else ""
            same = f"{len(words) - len(fresh)} as above" if len(fresh) < len(words) else ""
            listed = ", ".join(fresh[:MOST_WORDS]) + more
            parts.append(f"{what} {len(words)}: {' and '.join(filter(None, (same, listed)))}")
    return Entry(label, "; ".join(parts))


def _texts(texts: Sequence[TextChange], checked: int, c: Comparison) -> Iterator[Block]:
    broken = [t for t in texts if t.broken]
    mended = [t for t in texts if t.blocked_before and not t.blocked_after]
    if not texts:
        yield Paragraph(f"{count(checked, 'text')} compared: nothing changes for them.")
        return
    yield Paragraph(
        f"{count(checked, 'text')} compared: the change touches {len(texts)}. {len(broken)} could be read before and cannot "
        f"any more; {len(mended)} could not be read before and can now."
    )
    for text in sorted(texts, key=lambda t: (not t.broken, t.path)):
        step = (
            f"step {text.old_step}" if text.old_step == text.new_step else f"step {text.old_step}, now {text.new_step}"
        )
        # the words above are told in the progression's own accent
        accent = "" if text.accent == c.new.accent else f", in {text.accent}"
        state = (
            "could be read, cannot any more"
            if text.broken
            else f"{count(text.blocked_before, 'word')} could not be read, now {text.blocked_after}"
        )
        yield Heading(f"{text.path} ({step}{accent}): {state}")
        # words with one reason stand together
        groups: dict[tuple[str, str, str], list[WordChange]] = {}
        for word in text.words:
            groups.setdefault((word.before, word.after, word.reason), []).append(word)
        for (before, after, reason), words in sorted(groups.items(), key=lambda group: -len(group[1])):
            why = f". {reason[0].upper()}{reason[1:]}." if reason else ""
            where = f"{'' if why else '.'} Here: {'; '.join(filter(None, map(_where, words)))}."
            yield Entry(", ".join(word.word for word in words), f"{LABELS[before]}, now {LABELS[after]}{why}{where}")


def _where(word: WordChange) -> str:
    """A word with its places."""
    places = list(dict.fromkeys(place.words() for place in word.places))
    if all(place.line and place.words() == f"line {place.line}" for place in word.places):
        lines = [place.removeprefix("line ") for place in places]
        places = [f"line{'s' if len(lines) > 1 else ''} {lines[0]}", *lines[1:]] if lines else []
    more = f" and {len(places) - MOST_PLACES} more" if len(places) > MOST_PLACES else ""
    return f"{word.word} in {', '.join(places[:MOST_PLACES])}{more}" if places else ""
