"""A page as one HTML file that prints well: no scripts, nothing fetched."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template

from decodecheck.reports.page import Page

SUFFIX = ".html"


@cache
def _template() -> Template:
    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.tests["block"] = lambda block, name: type(block).__name__ == name
    return environment.get_template("page.html.jinja")


def render(page: Page) -> str:
    """The page as HTML; everything in it is escaped."""
    return _template().render(page=page) + "\n"
