"""`decodecheck check`: which words of a text cannot be read yet, and why."""

from __future__ import annotations

import click

from decodecheck.cli._kinds import complete, must_be_kinds
from decodecheck.cli._options import (
    baseline_option,
    file_names,
    files_argument,
    list_options,
    progression_option,
    step_options,
)
from decodecheck.reports import check as formats


@click.command(name="check")
@files_argument()
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option(
    "--format",
    "form",
    type=click.Choice(formats.names()),
    default="text",
    show_default=True,
    help="How to report on standard output.",
)
@click.option(
    "--output",
    "-o",
    "outputs",
    multiple=True,
    metavar="FILE",
    shell_complete=file_names,
    help="Write a report into a file, too, in the format that the end of its name stands for, or as FORMAT=FILE. May be repeated.",
)
@click.option("--details", is_flag=True, help="Text: places, excerpts and remedies, once for each word and reason.")
@click.option("--every-place", is_flag=True, help="Text: the same for each place at which a word stands.")
@click.option("--word", metavar="WORD", help="Text: the details of one word alone.")
@click.option("--quiet", "-q", is_flag=True, help="Text: nothing about what is fine.")
@click.option("--every-word", is_flag=True, help="JSON: list the words that are fine, too.")
@click.option(
    "--stdin-name",
    metavar="NAME",
    help="Read standard input as the file of this name would be, with its configuration.",
)
@click.option(
    "--respect-exclude", is_flag=True, help="Leave out what .gitignore or `exclude` leaves out, although it is named."
)
@list_options()
@click.option("--fix", is_flag=True, help="Put right what can be mended safely in the files themselves.")
@baseline_option()
@click.option(
    "--changed-since",
    metavar="REF",
    help="Only texts that have changed since a branch, tag or commit of git, and all whose progression or configuration has.",
)
@click.option(
    "--governed",
    is_flag=True,
    help="FILES are progressions and configurations: all texts are checked, in the folder at hand, that one of them governs.",
)
@click.option("--strict", is_flag=True, help="Fail on warnings (words to check by eye), too.")
@click.option(
    "--warn",
    multiple=True,
    metavar="KIND",
    shell_complete=complete,
    help="Findings of this kind are only warnings. May be repeated; `decodecheck findings` lists the kinds.",
)
@click.option(
    "--exit-zero", is_flag=True, help="Exit code 0 whatever the texts hold; 2 where one could not be checked."
)
def command(
    files: tuple[str, ...],
    progression: str | None,
    step: str | None,
    group: str | None,
    form: str,
    outputs: tuple[str, ...],
    details: bool,
    every_place: bool,
    word: str | None,
    quiet: bool,
    every_word: bool,
    lists: bool,
    order: str | None,
    target: str,
    fix: bool,
    stdin_name: str | None,
    baseline: str | None,
    changed_since: str | None,
    governed: bool,
    respect_exclude: bool,
    strict: bool,
    warn: tuple[str, ...],
    exit_zero: bool,
) -> int:
    """Check texts and word lists against a progression.

    FILES are texts (.txt, .md, .html, .docx, .odt, .pdf, .epub), word lists (.csv, .tsv, .xlsx; columns with the headers word, target, step, segmentation, sounds), folders of them, or - for
    standard input. --fix mends segmentations, numbers of sounds, repeated words and, with --order, the order of lists, and takes comments out of texts that
    allow nothing. Exit code 0: nothing of severity error was found (warnings count only with --strict); 1: a word that cannot be read, or something in a list
    to mend; 2: something could not be checked.
    """
    from contextlib import ExitStack

    from decodecheck.baselined import Held
    from decodecheck.changed import ChangedSince
    from decodecheck.cli import _reports
    from decodecheck.cli._failures import tell
    from decodecheck.cli._streams import write_document
    from decodecheck.garbage import collection_paused
    from decodecheck.governed import GovernedBy
    from decodecheck.printing import safe
    from decodecheck.project.baseline import read_baseline
    from decodecheck.reports.view import View
    from decodecheck.session import Lists, Session

    must_be_kinds("--warn", warn)
    inputs = [*files, *filter(None, (progression, baseline))]
    wanted = _reports.destinations(form, outputs, inputs)
    used = {destination.form for destination in wanted}
    if every_word and used.isdisjoint(("json", "jsonl")):
        raise click.UsageError("--every-word lists words in JSON only. Add --format json.")
    asked = {"--details": details, "--every-place": every_place, "--word": word, "--quiet": quiet}
    idle = next((name for name, given in asked.items() if given and "text" not in used), None)
    if idle:
        raise click.UsageError(f"{idle} is for the text report only. Take it or --format {form} out.")
    if stdin_name is not None and "-" not in files:
        raise click.UsageError("--stdin-name names standard input. Add - to the files, or take it out.")
    if stdin_name == "":
        raise click.UsageError("--stdin-name is empty. Write for instance --stdin-name story.md.")
    if governed and changed_since is not None:
        raise click.UsageError("--governed and --changed-since each say which texts to check. Take one out.")
    if changed_since is not None and "-" in files:
        raise click.UsageError("--changed-since looks at files. Take - out.")
    held = Held(read_baseline(baseline)) if baseline is not None else None
    session = Session(
        progression,
        step,
        group,
        warn=warn,
        lists=Lists(lists, order is not None, fix, target),
        stdin_name=stdin_name,
        respect_exclude=respect_exclude,
    )
    changed = None if changed_since is None else ChangedSince(session, changed_since, filter(None, (baseline,)))
    narrow = changed.narrow if changed else GovernedBy(session, files).narrow if governed else None
    run = session.run(["."] if governed else files, every_word=every_word, narrow=narrow)
    run.aside += [changed.sentence] if changed and changed.sentence else []
    if held:
        run = held.of(run)
    printed = formats.named(form)
    readers = _reports.remembered(session.readers)
    emphasis = form == "text" and _reports.emphasis()
    views = [
        View(
            _reports.width() if form == "text" and not destination.path else 0,
            details, every_place, word or "", quiet, every_word, readers, emphasis and not destination.path,
        )
        for destination in wanted
    ]  # fmt: skip
    runs = run.shared(len(wanted)) if len(wanted) > 1 else [run]
    renderings = [formats.named(to.form).render(shared, view) for to, shared, view in zip(wanted, runs, views)]
    told: set[str] = set()
    at = 0
    unwritten = False
    with collection_paused(), ExitStack() as stack:
        into_files = _reports.Files(wanted[1:], stack)
        for number, piece in _reports.side_by_side(renderings):
            # what fails is told where it stands among the texts; one faulty progression not again for each of them
            for failure in run.failures[at:]:
                tell(failure, told)
            at = len(run.failures)
            if number:
                into_files.add(number - 1, piece)
            elif printed.MACHINE or emphasis:
                write_document(piece)
            else:
                click.echo(piece, nl=False)
        for failure in run.failures[at:]:
            tell(failure, told)
        for error in into_files.write([*session.inputs(), *inputs]):
            click.echo(str(error), err=True)
            unwritten = True
    for sentence in session.mended:
        click.echo(safe(sentence), err=True)
    notes = [*(session.notes if printed.MACHINE else run.notes)]
    for note in [*notes, *map(safe, run.aside)]:
        click.echo(note, err=True)
    code = runs[0].exit_code(strict=strict)
    return 2 if unwritten else 0 if exit_zero and code == 1 else code
