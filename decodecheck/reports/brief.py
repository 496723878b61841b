"""The page of a brief for authors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from decodecheck.insight.brief import OTHER, Avoid, Brief
from decodecheck.insight.naming import Taught
from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.shape_names import in_words
from decodecheck.progression.statements import RULES
from decodecheck.reports.page import Block, Entry, Heading, Page, Paragraph

MOST_AVOID = 7
MOST_EXAMPLES = 5


def page(b: Brief) -> Page:
    """The page: what may be used, then words, then what to avoid."""
    title = next((s.title for s in b.order.steps if s.number == b.step), "")
    at = f"step {b.step} of {b.order.last}" + (f', "{title}"' if title else "")
    if b.order.variant:
        at += f' ("{b.order.variant}")'
    return Page(f"Writing for {b.order.name}", f"What can be read at {at}; {b.order.accent}", tuple(_blocks(b)))


def _blocks(b: Brief) -> Iterator[Block]:
    if b.new or b.new_tricky:
        yield Heading(f"New at step {b.step}; let the story use these most")
        yield from (_new(lesson, words) for lesson, words in b.new)
        if b.new_tricky:
            yield Entry("tricky words", ", ".join(b.new_tricky))
    yield Heading("You may use")
    yield from _graphemes(b.taught)
    if b.tricky:
        yield Entry("tricky words", ", ".join(b.tricky))
    yield from _named("structures", b.structures, b.step)
    yield from _named("endings", b.endings, b.step)
    yield from _rules(b)
    listed = sum(len(words) for _, words in b.words)
    yield Heading(
        f"{listed} common words that can be decoded, those of step {b.step} first"
        if listed
        else "No common word can be decoded yet"
    )
    for label, words in b.words:
        yield Entry(label if label == OTHER else f"{label}s", ", ".join(words))
    if b.near_misses:
        yield Heading("Avoid: a known grapheme with another sound")
        yield from (_avoid(a) for a in b.near_misses[:MOST_AVOID])
    if b.not_yet:
        yield Heading("Avoid: not taught yet")
        yield from (_avoid(a) for a in b.not_yet[:MOST_AVOID])
    yield Paragraph(
        "This page lists examples, not all that is possible. Check the finished text with `decodecheck check`."
    )


def _graphemes(taught: Sequence[Taught]) -> Iterator[Entry]:
    lessons = [t for t in taught if t.mention.kind in ("correspondence", "together", "adjacent")]
    single = [t for t in lessons if len(t.name) == 1]
    split = [t for t in lessons if "-" in t.name]
    several = [t for t in lessons if t not in single and t not in split]
    groups = (("letters", single), ("graphemes", several), ("split digraphs", split))
    for label, group in groups:
        if group:
            yield Entry(label, ", ".join(t.text for t in group))
    capitals = [t.name for t in taught if t.mention.kind == "capital"]
    if capitals:
        yield Entry("capitals", ", ".join(capitals))


def _new(lesson: Taught, words: Sequence[str]) -> Entry:
    label = lesson.text
    if lesson.mention.kind in ("structure", "adjacent"):
        label = in_words(lesson.name).partition(" (")[0] + f" ({lesson.name})"
    return Entry(label, ", ".join(words) or "no common word yet")


def _named(label: str, named: Sequence[tuple[str, int]], step: int) -> Iterator[Entry]:
    """What of the named structures or endings may be used, and which come later."""
    if not named:
        return
    now = [name for name, at in named if at <= step]
    later = [f"{name} (step {at})" if at < NEVER else name for name, at in named if at > step]
    parts = [", ".join(now)] if now else []
    if later:
        parts.append(f"not yet {', '.join(later)}")
    # a reader has to know what C and V are before she meets CVCC
    legend = "(C a consonant grapheme, V a vowel) " if label == "structures" else ""
    yield Entry(label, legend + "; ".join(parts) + ("; all others may be used" if legend else ""))


def _rules(b: Brief) -> Iterator[Entry]:
    for rule in RULES:
        text = rule.text(b.order, b.step)
        if text:
            yield Entry(rule.label, text)


def _avoid(a: Avoid) -> Entry:
    more = f" and {a.count - MOST_EXAMPLES} more" if a.count > MOST_EXAMPLES else ""
    though = f"; it is taught as in {' and '.join(a.though)}" if a.though else ""
    return Entry(a.name, ", ".join(a.words[:MOST_EXAMPLES]) + more + though)
