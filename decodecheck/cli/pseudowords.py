"""`decodecheck pseudowords`: invented words, for an occasional look at decoding."""

from __future__ import annotations

import click

from decodecheck.cli._options import progression_option, step_options, written_options
from decodecheck.errors import Problem, UserError, nearest


@click.command(name="pseudowords")
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option("--number", type=int, default=10, show_default=True, metavar="N", help="How many; of each section.")
@click.option("--seed", type=int, default=0, show_default=True, metavar="S", help="Another number, other words.")
@click.option(
    "--sections",
    type=click.Choice(["1", "2", "both"]),
    help="Words as in these sections of the phonics screening check; this needs no progression.",
)
@click.option("--syllables", type=click.IntRange(1, 2), help="Without it: 1.")
@click.option("--one-reading", is_flag=True, help="Only words that can be read in one way.")
@click.option(
    "--accent",
    "accents",
    multiple=True,
    metavar="ACCENT",
    help="Sound like no word in this accent, either; may be repeated. `all` for all accents.",
)
@written_options()
def command(
    progression: str | None,
    step: str | None,
    group: str | None,
    number: int,
    seed: int,
    sections: str | None,
    syllables: int | None,
    one_reading: bool,
    accents: tuple[str, ...],
    form: str | None,
    output: str | None,
) -> int:
    """Invent words of what is taught, to see now and then how a child decodes.

    They are made like English words, and are none; they sound like none, and like nothing rude. Every reading to accept is given.
    They are not for teaching or homework.
    """
    from dataclasses import replace

    from decodecheck.cli._written import format_of, here, write_out
    from decodecheck.garbage import collection_paused
    from decodecheck.phonics.sounds import ACCENTS
    from decodecheck.reports.pseudowords import PseudoWordList, render
    from decodecheck.wordlists.pseudowords import Wanted, of_section, pseudowords, told

    if sections and syllables:
        what = "A section of the screening check has its own structures."
        raise UserError(Problem("--syllables", what, "Leave --syllables or --sections out."))
    for accent in accents:
        if accent not in (*ACCENTS, "all"):
            close = nearest(accent, [*ACCENTS, "all"], most=1)
            todo = (f"Did you mean {close[0]}? " if close else "") + f"Accents are: {', '.join(ACCENTS)}, or all."
            raise UserError(Problem("--accent", f"There is no accent called {accent!r}.", todo))
    readers = here(progression, step, group)
    standing = readers.standing if sections else readers.must_stand()
    wanted_accents = ACCENTS if "all" in accents else accents
    own = (standing.order.accent,) if standing else () if accents else ACCENTS[:1]
    all_accents = tuple(dict.fromkeys((*own, *wanted_accents)))
    taught = ((standing.order, standing.step),) if standing else ()
    if sections:
        numbers = (1, 2) if sections == "both" else (int(sections),)
        wanted = [of_section(section, all_accents, taught) for section in numbers]
    else:
        wanted = [Wanted(taught, all_accents, syllables or 1)]
    with collection_paused():
        made = [(w, *pseudowords(w, number, seed)) for w in (replace(w, one_reading=one_reading) for w in wanted)]
    words = [word for _, found, _ in made for word in found]
    shortages = [told(w, shortage) for w, _, shortage in made if shortage]
    if not words:
        raise UserError(*shortages)
    of = [f"what is taught by step {standing.step} of {standing.order.name}"] if standing else []
    of += ["graphemes and structures of the phonics screening check"] if sections else []
    listed = PseudoWordList(tuple(words), ", and ".join(of), all_accents, seed)
    write_out(render(listed, format_of(form, output)), output, readers)
    for problem in shortages:
        click.echo(replace(problem, note=True).text(), err=True)
    return 0
