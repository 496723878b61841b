"""`decodecheck words`: words that fit a lesson."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import click

from decodecheck.cli._options import progression_option, sheet_options, step_options, written_options

KINDS = (
    "names",
    "abbreviations",
    "possessives",
    "contractions",
    "unfit",
    "other-country",
    "unsure",
    "heteronyms",
    "joins",
)
"""What --also lets in."""


class Floor(click.FloatRange):
    """A Zipf frequency. click lets nan pass any range."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The number. Fails with click's own message for what is none, or lies outside."""
        found = super().convert(value, param, ctx)
        if found != found:
            self.fail(f"{value!r} is not a valid float range.", param, ctx)
        return found


FLOOR = Floor(0, 9)


@click.command(name="words")
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option(
    "--with", "with_", multiple=True, metavar="ITEM", help='Every word holds it: "ow as in grow", "-ing", "st".'
)
@click.option(
    "--place", type=click.Choice(["start", "middle", "end"]), help="Where the first --with stands in the word."
)
@click.option("--without", multiple=True, metavar="ITEM", help="No word holds it.")
@click.option("--graphemes", metavar="N", help="How many graphemes: 3, 3-4, 3- or -4. So with the next two.")
@click.option("--sounds", metavar="N", help="How many sounds.")
@click.option("--syllables", metavar="N", help="How many syllables.")
@click.option("--structure", metavar="CVC", help="Its structure, or several: CVC,CCVC.")
@click.option(
    "--endings/--no-endings", default=True, help="Whether words with an ending (jumps, louder) may be in the list."
)
@click.option(
    "--common", type=FLOOR, metavar="ZIPF", help="At least so common in English at large; 4 is one in 100,000 words."
)
@click.option("--likely", type=FLOOR, metavar="ZIPF", help="At least so likely in books for young children.")
@click.option("--apart", is_flag=True, help="No word that sounds like another.")
@click.option("--not-in", "not_in", metavar="FILE", help="None of the words in this file.")
@click.option(
    "--for", "purpose", type=click.Choice(["reading", "spelling"]), default="reading", show_default=True,
    help="For spelling, each spelling has to be taught, too.",
)  # fmt: skip
@click.option(
    "--also", multiple=True, type=click.Choice(KINDS), metavar="KIND", help="Let in a kind that is left out (above)."
)
@click.option(
    "--number", type=click.IntRange(min=1), metavar="N", help="How many words: the likeliest. Without it: 20."
)
@click.option("--all", "everything", is_flag=True, help="All words that fit.")
@click.option(
    "--seed", type=int, metavar="S", help="Draw the words among the likely ones; the same S draws the same words."
)
@click.option(
    "--order", type=click.Choice(["easy", "common", "length", "alphabet"]), default="easy", show_default=True,
    help="In which order they stand; easy: from easy to hard to spell.",
)  # fmt: skip
@written_options()
@click.option(
    "--sheet",
    metavar="FILE",
    help="Also write a sheet of the words: a dictation, phoneme frames, word cards. FILE ends in .html, .docx or .txt.",
)
@sheet_options("Of the sheet. ")
def command(
    progression: str | None,
    step: str | None,
    group: str | None,
    form: str | None,
    output: str | None,
    sheet: str | None,
    parts: tuple[str, ...],
    paper: str | None,
    title: str | None,
    **asked: Any,
) -> int:
    """Find words for a lesson.

    They can be decoded at a step, and fit what you ask for. Those that children are likeliest to know are chosen.

    Left out, and counted: names, abbreviations, possessives, contractions, unfit (for a primary classroom), other-country (spellings), unsure (one
    of two senses cannot be read yet), heteronyms (two readings), joins (mishap). --also names lets names in.
    """
    from decodecheck.cli._lists import wanted_of
    from decodecheck.cli._written import format_of, here, write_out
    from decodecheck.errors import Problem, UserError
    from decodecheck.printing import safe
    from decodecheck.reports.wordlist import render
    from decodecheck.source import shown
    from decodecheck.wordlists.find import find

    form = format_of(form, output)
    if sheet is None and (parts or paper or title is not None):
        option = "--part" if parts else "--paper" if paper else "--title"
        raise UserError(Problem(option, "This is for a sheet, and none is asked for.", "Add --sheet FILE.html."))
    if sheet is not None:
        from decodecheck.cli._sheets import refuse_same, sheet_format

        sheet_format(sheet)
        refuse_same(sheet, output)
    found = here(progression, step, group)
    standing = found.must_stand()
    wanted = wanted_of(standing.order, asked)
    if wanted.used_from:
        found = replace(found, inputs=(*found.inputs, wanted.used_from))
    listed = find(standing.order, standing.step, wanted)
    if sheet is not None:
        from decodecheck.cli._sheets import sheet_page, write_sheet
        from decodecheck.reports.sheet import WordSheet

        whole = WordSheet(standing.order, standing.step, listed.words, title or "")
        made = sheet_page(whole, parts, paper, "--all" if asked["everything"] else "--number")
        write_sheet(made, sheet, found)
    write_out(render(listed, form), output, found)
    if sheet is not None:
        # standard output may hold a list for a program
        click.echo(f"{safe(shown(sheet))}: written.", err=output is None and form != "text")
    return 0
