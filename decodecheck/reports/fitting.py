"""Which step texts fit, as a page, and as rows for programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from decodecheck.errors import count, cut, cut_path
from decodecheck.insight.fit import Fit, Fitted, Waiting
from decodecheck.lexicon.store import NEVER
from decodecheck.printing import as_json
from decodecheck.reports.page import Bars, Block, Heading, Page, Paragraph, Table
from decodecheck.reports.rows import as_csv
from decodecheck.reports.step_chart import drawn
from decodecheck.reports.text_names import text_names

SCHEMA = 1
NAMED = 8
"""Words that are named in a line."""
TELL = 3
"""So many words of a text an adult can tell a child; a text with more of them is not for the group."""
MANY_ALOUD = "No five changes make all of these readable at their step; they are texts to read aloud, or to keep"
READ_ALOUD = "No five changes make all of it readable at this step: it is a text to read aloud, or to keep."


def page(fitted: Sequence[Fitted], *, groups: bool) -> Page:
    """One text at length, several in a table; with `groups` a grid of texts and groups."""
    if groups:
        return Page("Which text can go home with which group", _subtitle(fitted), tuple(_grid(fitted)), "landscape")
    if len(fitted) == 1:
        (one,) = fitted
        title = f"Which step fits: {cut_path(one.fit.path)}"
        return Page(
            title,
            f"{one.order}, {count(len(one.fit.steps), 'step')}; {count(one.fit.running, 'word')}",
            tuple(_one(one)),
        )
    return Page("Which step fits", _subtitle(fitted), tuple(_several(fitted)), "landscape")


def _subtitle(fitted: Sequence[Fitted]) -> str:
    orders = ", ".join(dict.fromkeys(f.order for f in fitted))
    return f"{count(len(fitted), 'text')}; {orders}"


# -- one text ---------------------------------------------------------------------------------------------------------------


def _one(one: Fitted) -> Iterator[Block]:
    yield Paragraph(readable(one.fit))
    if one.fit.unknown:
        yield Paragraph(f"Not known to decodecheck, and left out: {_list(one.fit.unknown)}.")
    yield Heading("Not yet decodable, by step")
    chart = drawn(one.fit.by_step(), one.fit.step)
    if chart:
        yield Bars("Words that cannot be read at each step. The dark bar is the step of the check.", chart)
    steps = tuple(_steps(one.fit))
    yield Table(("Step", "Words", "Which"), steps, wide=(2,))
    if len(steps) < len(one.fit.steps):
        yield Paragraph("A step that stands in no row leaves as many words as the one above.")
    if one.help:
        left = one.help[-1].left
        yield Heading(f"What would help most at step {one.fit.step}")
        rows = tuple((str(len(c.changes)), str(c.cleared), str(c.left), "; ".join(c.changes)) for c in one.help)
        yield Table(("Changes", "Words cleared", "Words left", "Which"), rows, wide=(3,))
        if left:
            yield Paragraph(READ_ALOUD)


def readable(fit: Fit) -> str:
    """From which step on a text can be read, and what holds it back, in a sentence or two."""
    if not fit.waiting:
        return "All its words are allowed or unknown."
    if fit.first is None:
        never = [w.word for w in fit.waiting if w.step == NEVER]
        text = f"No step makes all of it readable: {count(len(never), 'different word')} can be read at none ({_list(never)})."
    else:
        text = f"All of it can be read from step {fit.first} on."
    if fit.held_back:
        text += f" Without {_list(fit.held_back.words)} it would be step {fit.held_back.without}."
    return text


def _steps(fit: Fit) -> Iterator[tuple[str, str, str]]:
    """The steps at which the number changes, with the words that are left where they are few."""
    before = -1
    for step, number in fit.by_step():
        if number != before:
            left = fit.left_at(step)
            which = _list([w.word for w in left]) if len(left) <= NAMED else f"{len(left)} different words"
            yield str(step), str(number), which if number else "all can be read"
        before = number


# -- several ----------------------------------------------------------------------------------------------------------------


def _several(fitted: Sequence[Fitted]) -> Iterator[Block]:
    names = text_names(f.fit.path for f in fitted)
    yield Table(
        ("Text", "Words", "First step", "Held back by", "At its step", "Not yet decodable there"),
        tuple(_row(f.fit, names[f.fit.path]) for f in fitted),
        wide=(0, 3, 5),
    )
    yield Paragraph(
        "First step: the first at which every word can be read. Held back by: a few words, and after “without” the first step if they were not there. "
        "At its step: where the text is checked now."
    )
    aloud = [names[f.fit.path] for f in fitted if f.help and f.help[-1].left]
    if aloud:
        yield Paragraph(f"{MANY_ALOUD}: {'; '.join(aloud)}.")
    charts = [(f, chart) for f in fitted if (chart := drawn(f.fit.by_step(), f.fit.step))]
    yield from (
        Bars(f"{names[f.fit.path]}: words that cannot be read at each step; dark, its own", c) for f, c in charts
    )


def _row(fit: Fit, name: str) -> tuple[str, ...]:
    held = f"{_list(fit.held_back.words)} (without: {fit.held_back.without})" if fit.held_back else ""
    left = fit.left_at(fit.step)
    there = f"{sum(w.times for w in left)}: {_list([w.word for w in left])}" if left else "none"
    return name, str(fit.running), _first(fit), held, str(fit.step), there


def _first(fit: Fit) -> str:
    return "none" if fit.first is None else str(fit.first)


def _grid(fitted: Sequence[Fitted]) -> Iterator[Block]:
    names = list(dict.fromkeys(name for f in fitted for name in f.groups))
    paths = text_names(f.fit.path for f in fitted)
    rows = tuple((paths[f.fit.path], *(_cell(f.groups.get(name)) for name in names)) for f in fitted)
    yield Table(("Text", *names), rows, wide=tuple(range(len(names) + 1)))
    yield Paragraph(
        f"Tell: up to {TELL} words that the group cannot read yet; say them to the child before reading. A number: so many different words."
    )


def _cell(words: tuple[str, ...] | None) -> str:
    if words is None:
        return ""
    if not words:
        return "can read it"
    return f"tell: {', '.join(map(cut, words))}" if len(words) <= TELL else count(len(words), "word")


def _list(words: Sequence[str]) -> str:
    named = [cut(word) for word in words[:NAMED]]
    if len(words) > NAMED:
        return ", ".join(named) + f" and {len(words) - NAMED} more"
    return ", ".join(named[:-1]) + " and " + named[-1] if len(named) > 1 else "".join(named)


# -- for programs -----------------------------------------------------------------------------------------------------------


def as_document(fitted: Sequence[Fitted]) -> str:
    """The texts as JSON, schema 1."""
    return as_json({"schema": SCHEMA, "files": [_record(f) for f in fitted]}) + "\n"


def _record(f: Fitted) -> dict[str, Any]:
    fit = f.fit
    return {
        "path": fit.path,
        "step": fit.step,
        "words": fit.running,
        "first_step": fit.first,
        "not_yet_decodable": [{"step": step, "words": words} for step, words in fit.by_step()],
        "waiting": [_waiting(w) for w in fit.left_at(fit.step)],
        "unknown": list(fit.unknown),
        "held_back": {"words": list(fit.held_back.words), "without": fit.held_back.without} if fit.held_back else None,
        "help": [{"changes": list(c.changes), "cleared": c.cleared, "left": c.left} for c in f.help],
        "groups": {name: list(words) for name, words in f.groups.items()},
    }


def _waiting(word: Waiting) -> dict[str, Any]:
    return {"word": word.word, "times": word.times, "first_step": None if word.step == NEVER else word.step}


def as_table(fitted: Sequence[Fitted]) -> str:
    """The texts as CSV."""
    names = list(dict.fromkeys(name for f in fitted for name in f.groups))
    head = [
        "path",
        "words",
        "first_step",
        "held_back_by",
        "without_them",
        "step",
        "not_yet_decodable",
        "which",
        "by_step",
        *names,
    ]
    rows = []
    for f in fitted:
        fit, held = f.fit, f.fit.held_back
        left = fit.left_at(fit.step)
        rows.append(
            [fit.path, fit.running, "" if fit.first is None else fit.first, " ".join(held.words) if held else ""]
            + [held.without if held else "", fit.step, sum(w.times for w in left), " ".join(w.word for w in left)]
            + [" ".join(f"{step}:{words}" for step, words in fit.by_step())]
            + [_cell(f.groups.get(name)) for name in names]
        )
    return as_csv(head, rows)
