"""A page as one HTML file that prints well: no scripts, nothing fetched."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup, escape

from decodecheck.reports import display, paper, step_chart
from decodecheck.reports.page import Page

SUFFIXES = (".html", ".htm")
HYPHENED = re.compile(r"(\S{0,14}-\S{0,14})")
"""`a-e`, `-er`, `(hee-haw)`: what must not be divided at its hyphen."""


@cache
def _template() -> Template:
    environment = Environment(
        loader=FileSystemLoader([Path(__file__).parent, step_chart.TEMPLATES]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.tests["block"] = lambda block, name: type(block).__name__ == name
    environment.filters["whole"] = whole
    environment.filters["type_size"] = display.type_size
    environment.globals["display"] = display
    environment.globals["paper"] = paper
    environment.globals["room"] = step_chart
    return environment.get_template("page.html.jinja")


def whole(text: str) -> Markup:
    """A text in which no line ends at a hyphen; escaped."""
    parts = HYPHENED.split(text)
    return Markup("").join(
        Markup('<span class="short">{}</span>').format(part) if at % 2 else escape(part)
        for at, part in enumerate(parts)
    )


def render(page: Page) -> str:
    """The page as HTML; everything in it is escaped."""
    return _template().render(page=page) + "\n"
