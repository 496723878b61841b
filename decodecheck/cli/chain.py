"""`decodecheck chain`: words in which each changes one sound of the word before."""

from __future__ import annotations

import click

from decodecheck.cli._options import progression_option, step_options, written_options
from decodecheck.errors import Problem, UserError


@click.command(name="chain")
@click.argument("words", nargs=-1, required=True, metavar="FIRST [LAST]")
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option("--length", type=int, metavar="N", help="So many words, from FIRST on.")
@click.option("--seed", type=int, metavar="S", help="With --length: another number, another chain. Without it: 0.")
@click.option("--heteronyms", is_flag=True, help="Also words with two readings, such as read.")
@written_options()
def command(
    words: tuple[str, ...],
    progression: str | None,
    step: str | None,
    group: str | None,
    length: int | None,
    seed: int | None,
    heteronyms: bool,
    form: str | None,
    output: str | None,
) -> int:
    """Make a chain of words: each changes, adds or drops exactly one sound of the word before.

    The shortest from FIRST to LAST, or of a wanted length from FIRST. All words can be decoded at the step; names, uncommon
    words, and words that do not suit a classroom are left out.
    """
    from decodecheck.cli._written import format_of, here, write_out
    from decodecheck.garbage import collection_paused
    from decodecheck.reports.chain import refusal, render
    from decodecheck.wordlists.chain import Chains, NotDecodable

    if len(words) > 2:
        raise UserError(Problem("chain", "A chain has a first and a last word.", "Name one word or two."))
    if len(words) == 2 and (length is not None or seed is not None):
        what = "--length and --seed are for a chain from one word."
        raise UserError(Problem("chain", what, "Leave the last word out, or these options."))
    if len(words) == 1 and length is None:
        raise UserError(Problem("chain", "There is no word to go to.", "Name a last word, or add --length N."))
    found = here(progression, step, group)
    standing = found.must_stand()
    chains = Chains(standing.order, standing.step, heteronyms=heteronyms)
    try:
        with collection_paused():
            chain = chains.between(*words) if length is None else chains.of_length(words[0], length, seed or 0)
    except NotDecodable as error:
        raise UserError(refusal(error, standing.step)) from None
    write_out(render(chain, format_of(form, output)), output, found)
    return 0
