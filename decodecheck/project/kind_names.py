"""The names of the kinds of findings, on texts and on word lists; no kind is loaded for them."""

from __future__ import annotations

from decodecheck.checking import findings
from decodecheck.errors import nearest
from decodecheck.lists import findings as list_findings


def kind_names() -> list[str]:
    """The kinds of findings on texts, and those on word lists."""
    return [*findings.names(), *list_findings.names()]


def nearest_kind(wrong: str) -> str:
    """What is said of a name that is no kind: the nearest one, or where they are listed."""
    close = nearest(wrong, kind_names(), most=1)
    return f"Did you mean {close[0]}?" if close else "`decodecheck findings` lists them."
