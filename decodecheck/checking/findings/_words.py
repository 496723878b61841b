"""Sentences that several kinds of findings share."""

from __future__ import annotations

from decodecheck.checking.verdict import CAPITAL, DOUBLED, ENDING, EXCEPTED, IRREGULAR, STRUCTURE, Blocker


def when(taught_at: int | None) -> str:
    """When something is taught."""
    return f"taught at step {taught_at}" if taught_at else "never taught in this progression"


def describe(blocker: Blocker) -> str:
    """What a blocker is, what it says here and when it is taught."""
    sounds = f" /{''.join(blocker.sounds)}/" if blocker.sounds else ""
    as_in = f" as in {blocker.as_in}" if blocker.as_in else ""
    if blocker.cause == EXCEPTED:
        return f"{blocker.grapheme}{sounds}{as_in} is left out for this group (its class learnt it at step {blocker.taught_at})"
    if blocker.cause == ENDING:
        return f"the ending {blocker.grapheme} (here{sounds or ' silent'}) is {when(blocker.taught_at)}"
    if blocker.cause == STRUCTURE:
        return f"the word structure {blocker.grapheme} is {when(blocker.taught_at)}"
    if blocker.cause == CAPITAL:
        return f"the capital letter {blocker.grapheme} is {when(blocker.taught_at)}"
    if blocker.cause == DOUBLED:
        return f"the doubled letter {blocker.grapheme} is {when(blocker.taught_at)}"
    if blocker.cause == IRREGULAR:
        return f"{blocker.grapheme} is an irregular spelling here" + (f" ({sounds.strip()})" if sounds else "")
    says = f"{blocker.grapheme}{sounds}{as_in}" if blocker.sounds else f"silent {blocker.grapheme}{as_in}"
    place, step = blocker.elsewhere
    if place:
        here = f"; elsewhere at step {blocker.taught_at}" if blocker.taught_at else ""
        return f"{says} is taught only {place} (step {step}){here}"
    return f"{says} is {when(blocker.taught_at)}"


def reasons(blockers: tuple[Blocker, ...]) -> str:
    """All blockers in one sentence."""
    return "; ".join(describe(b) for b in blockers) + "." if blockers else ""


def item_text(blocker: Blocker) -> str:
    """How a progression teaches this: ready to paste after `teach`."""
    return f"{blocker.grapheme} as in {blocker.as_in}" if blocker.as_in else blocker.grapheme
