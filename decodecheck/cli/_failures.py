"""Tell what could not be checked."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from decodecheck.run import Failure


def tell(failure: Failure, told: set[str]) -> None:
    """Say on standard error why something could not be checked, without what `told` holds; adds to `told`."""
    said = failure.error.untold(told)
    if said:
        click.echo(said, err=True)
