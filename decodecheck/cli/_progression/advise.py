"""`decodecheck progression advise`: notes on a progression."""

from __future__ import annotations

import click

from decodecheck.cli._options import file_names


@click.command(name="advise")
@click.argument("file", shell_complete=file_names)
@click.option(
    "--texts", metavar="FOLDER", help="Rank by how often words stand in these texts, not by how common they are."
)
@click.option("--most", type=click.IntRange(min=1), default=40, show_default=True, help="How many words to list.")
def command(file: str, texts: str | None, most: int) -> int:
    """Give notes on a progression FILE.

    Never errors, and you may know better.

    Tricky words that can be decoded already; common words that no step makes readable; steps with nothing to read; sounds with
    one spelling only; split digraphs before their vowels.
    """
    from decodecheck.cli._failures import tell
    from decodecheck.errors import count
    from decodecheck.insight.advise import VERY_COMMON, advise
    from decodecheck.over_texts import Counted, word_counts
    from decodecheck.printing import safe
    from decodecheck.session import Session

    session = Session(file)
    order = session.order(file)
    counted = word_counts(session, texts, order) if texts is not None else Counted()
    told: set[str] = set()
    for failure in counted.failures:
        tell(failure, told)
    if counted.failures and not counted.words:
        return 2  # of no words at all nothing is true
    advice = advise(order, counted.words if texts is not None else None)
    for note in advice.notes:
        click.echo(note.text())
    shown = advice.unreadable[:most]
    where = f"in {safe(texts)}" if texts is not None else f"among the {VERY_COMMON} commonest words"
    if not shown:
        click.echo(f"Every word {where} can be read at the last step.")
    else:
        click.echo(
            f"No step makes these words readable ({where}, the most frequent first). Teach them as tricky words, "
            "or teach what stands behind them:"
        )
        for found in shown:
            times = f"{count(found.times, 'time')}, " if texts is not None else ""
            click.echo(safe(f"  {found.word:<12} {times}{found.reason}"))
        if len(advice.unreadable) > most:
            click.echo(f"  and {len(advice.unreadable) - most} more")
    click.echo(f"{count(len(advice.notes), 'note')}.")
    return 2 if counted.failures else 0
