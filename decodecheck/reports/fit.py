"""A page made fit for every format: nothing in its texts that may not be printed, or that XML does not allow."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from decodecheck.errors import with_short_words
from decodecheck.printing import safe

Part = TypeVar("Part")


def fit(part: Part) -> Part:
    """A page, a block or whatever they are made of, with every text in it safe and no word in it too long to be read.

    What may not be printed includes all that XML leaves out (XML 1.0, fifth edition, production 2, "Char").
    """
    return _fit(part)  # type: ignore[no-any-return]  # what comes back is of the same kind


def _fit(part: Any) -> Any:
    if isinstance(part, str):
        return with_short_words(safe(part.replace("\n", " ")))
    if isinstance(part, (tuple, list)):
        return type(part)(_fit(each) for each in part)
    if is_dataclass(part) and not isinstance(part, type):
        return replace(part, **{field.name: _fit(getattr(part, field.name)) for field in fields(part) if field.init})
    return part
