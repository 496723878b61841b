"""`decodecheck page`: the page on this computer."""

from __future__ import annotations

import sys

import click

from decodecheck.cli._options import file_names


@click.command(name="page")
@click.option(
    "--progression",
    metavar="FILE",
    shell_complete=file_names,
    help="An order of teaching that the page offers first, with what it includes.",
)
@click.option(
    "--port", type=click.IntRange(1, 65535), metavar="N", help="Where the page is. Without it: 8321, or a free one."
)
@click.option(
    "--host",
    default="127.0.0.1",
    metavar="ADDRESS",
    show_default=True,
    help="The address it listens at. With another one, others in the network can use it.",
)
@click.option("--no-browser", is_flag=True, help="Do not open a browser.")
def command(progression: str | None, port: int | None, host: str, no_browser: bool) -> int:
    """Open a page in the browser: paste a text, see it with its difficult spots marked.

    Choose an order of teaching and move the step. The page shows which words cannot be read yet and why, which step the text fits, what would help most; it finds words for a lesson and prints
    sheets. Everything is done on this computer; no text is kept or sent anywhere.
    """
    # slow to load, and needed by no other command
    from decodecheck.web.serve import serve

    def tell(text: str) -> None:
        click.echo(text)
        sys.stdout.flush()

    serve(host, port, progression, tell, browser=not no_browser)
    return 0
