"""`decodecheck explain`: how a word divides into graphemes, and when it can be read."""

from __future__ import annotations

import click

from decodecheck.errors import Problem, UserError, nearest


@click.command(name="explain")
@click.argument("words", nargs=-1, required=True)
@click.option("--accent", metavar="ACCENT", help="southern-british, general-american, northern-english or scottish.")
@click.option("--progression", metavar="FILE", help="Say from which step on each word can be read.")
@click.option(
    "--format", "form", type=click.Choice(["text", "jsonl"]), default="text", show_default=True, help="How to report."
)
def command(words: tuple[str, ...], accent: str | None, progression: str | None, form: str) -> int:
    """Explain WORDS (- : from standard input): readings, graphemes, sounds, counts, structure, first step."""
    from decodecheck.phonics.sounds import ACCENTS
    from decodecheck.printing import as_json, safe
    from decodecheck.reports.words import Explainer, document, lines

    if accent is not None and accent not in ACCENTS:
        close = nearest(accent, list(ACCENTS), most=1)
        todo = (f"Did you mean {close[0]}? " if close else "") + "Accents are: " + ", ".join(ACCENTS) + "."
        raise UserError(Problem("--accent", f"There is no accent called {accent!r}.", todo))
    order = None
    if progression:
        from decodecheck.progression.resolve import load

        order = load(progression)
        if accent and accent != order.accent:
            todo = f"Leave --accent out, or write `accent {accent}` into the progression."
            raise UserError(Problem(progression, f"This progression is for the accent {order.accent}.", todo))
    explainer = Explainer(accent or (order.accent if order else ACCENTS[0]), order)
    for word in _given(words):
        explained = explainer.explain(word)
        if form == "jsonl":
            click.echo(as_json(document(explained)))
        else:
            for line in lines(explained, order):
                click.echo(safe(line))
    return 0


def _given(words: tuple[str, ...]) -> list[str]:
    found: list[str] = []
    for word in words:
        if word == "-":
            from decodecheck.source import read_text

            found += read_text("-").text.split()
        else:
            found.append(word)
    return found
