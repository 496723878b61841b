"""`decodecheck cache`: what is kept from run to run, and how to throw it away."""

from __future__ import annotations

import click


@click.command(name="cache")
@click.option("--clear", is_flag=True, help="Throw away all that is kept.")
def command(clear: bool) -> int:
    """Say where the answers of earlier checks are kept, and how much room they take.

    Nothing depends on them: what is not kept is worked out anew.
    """
    from decodecheck.printing import safe
    from decodecheck.project.kept import FOLDER, Kept, cache_folder

    folder = cache_folder()
    if folder is None:
        click.echo(f"Nothing is kept: {FOLDER} is set and empty, or there is no folder for it.")
        return 0
    kept = Kept(folder)
    size = kept.clear() if clear else kept.size()
    click.echo(f"{safe(str(folder))}: {size / 1_000_000:.1f} MB {'thrown away' if clear else 'kept'}.")
    return 0
