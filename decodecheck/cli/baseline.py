"""`decodecheck baseline`: findings that were there before, so that only new ones fail."""

from __future__ import annotations

import click

from decodecheck.cli import _baseline
from decodecheck.cli.main import LazyGroup


class _Group(LazyGroup):
    package = _baseline


@click.group(name="baseline", cls=_Group)
def command() -> None:
    """Write and prune a baseline of known findings.

    With `check --baseline FILE`, only findings that it does not hold fail.
    """
