"""`decodecheck progression`: commands on progression files."""

from __future__ import annotations

import click

from decodecheck.cli import _progression
from decodecheck.cli.main import LazyGroup


class _Group(LazyGroup):
    package = _progression


@click.group(name="progression", cls=_Group)
def command() -> None:
    """Make, show, check and compare progressions."""
