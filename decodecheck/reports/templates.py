"""The environment of jinja that pages for the browser are made in: everything that is put in is escaped, and made fit to be printed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from decodecheck.printing import safe
from decodecheck.reports import step_chart


def environment(*folders: Path) -> Environment:
    """An environment with the templates of some folders, and that of the chart; a name is looked for in the first one first."""
    made = Environment(
        loader=FileSystemLoader([*folders, step_chart.TEMPLATES]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_printable,
    )
    made.globals["room"] = step_chart
    made.filters["coded"] = _coded
    return made


def _coded(text: str) -> Any:
    """A text in which what stands between backticks is set as code."""
    parts = [escape(safe(part)) for part in text.split("`")]
    if len(parts) % 2 == 0:
        return safe(text)
    code = Markup("<code>{}</code>")
    return Markup("").join(code.format(part) if at % 2 else part for at, part in enumerate(parts))


def _printable(value: Any) -> Any:
    """Whatever is put in, without what may not be printed; markup of the page's own stays."""
    return safe(value) if type(value) is str else value
