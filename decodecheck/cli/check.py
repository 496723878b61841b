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
@click.option("--watch", is_flag=True, help="Check again whenever a file is saved, until Ctrl-C.")
@click.option("--no-cache", is_flag=True, help="Neither use what earlier runs have kept nor keep anything.")
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
    watch: bool,
    no_cache: bool,
) -> int:
    """Check texts and word lists against a progression.

    FILES are texts (.txt, .md, .html, .docx, .odt, .pdf, .epub), word lists (.csv, .tsv, .xlsx; columns with the headers word, target, step, segmentation, sounds), folders of them, or - for
    standard input. --fix mends segmentations, numbers of sounds, repeated words and, with --order, the order of lists, and takes comments out of texts that
    allow nothing. Exit code 0: nothing of severity error was found (warnings count only with --strict); 1: a word that cannot be read, or something in a list
    to mend; 2: something could not be checked.
    """
    from contextlib import ExitStack

    from decodecheck.cli import _kept, _reports

    must_be_kinds("--warn", warn)
    inputs = [*files, *filter(None, (progression, baseline))]
    wanted = _reports.destinations(form, outputs, inputs)
    used = {destination.form for destination in wanted}
    if every_word and used.isdisjoint(("json", "jsonl")):
        raise click.UsageError("--every-word lists words in JSON only. Add --format json.")
    given_for_text = {"--details": details, "--every-place": every_place, "--word": word, "--quiet": quiet}
    idle = next((name for name, given in given_for_text.items() if given and "text" not in used), None)
    if idle:
        raise click.UsageError(f"{idle} is for the text report only. Take it or --format {form} out.")
    if stdin_name is not None and "-" not in files:
        raise click.UsageError("--stdin-name names standard input. Add - to the files, or take it out.")
    idle = next((name for name, given in (("-", "-" in files), ("--fix", fix)) if given and watch), None)
    if idle:
        raise click.UsageError(f"--watch waits for files to be saved by somebody. Take it or {idle} out.")
    if stdin_name == "":
        raise click.UsageError("--stdin-name is empty. Write for instance --stdin-name story.md.")
    if governed and changed_since is not None:
        raise click.UsageError("--governed and --changed-since each say which texts to check. Take one out.")
    if changed_since is not None and "-" in files:
        raise click.UsageError("--changed-since looks at files. Take - out.")
    context = click.get_current_context()
    if watch:
        return _again_and_again(context)
    width, emphasis = (_reports.width(), _reports.emphasis()) if form == "text" else (0, False)
    asked = _kept.asked(context.params, used, shown_whole=bool(width))
    known = asked.answer() if asked else None
    if known:
        return _kept.told_again(known, wanted, inputs)

    from decodecheck.baselined import Held
    from decodecheck.changed import ChangedSince
    from decodecheck.cli import _progress, _watch
    from decodecheck.cli._failures import tell
    from decodecheck.cli._streams import write_document
    from decodecheck.garbage import collection_paused
    from decodecheck.governed import GovernedBy
    from decodecheck.printing import safe
    from decodecheck.project.baseline import read_baseline
    from decodecheck.project.list_files import Lists
    from decodecheck.reports.view import View
    from decodecheck.session import Session

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
    session.known += filter(None, [baseline])
    session.deciding += held.baseline.files() if held else []
    context.meta[_watch.READ] = session.looked_at
    changed = None if changed_since is None else ChangedSince(session, changed_since, filter(None, (baseline,)))
    narrow = changed.narrow if changed else GovernedBy(session, files).narrow if governed else None
    run = session.run(["."] if governed else files, every_word=every_word, narrow=narrow)
    run.aside += [changed.sentence] if changed and changed.sentence else []
    if held:
        run = held.of(run)
    printed = formats.named(form)
    to_the_letter = printed.MACHINE or emphasis
    readers = _reports.remembered(session.readers)
    views = [
        View(
            0 if destination.path else width,
            details, every_place, word or "", quiet, every_word, readers, emphasis and not destination.path,
        )
        for destination in wanted
    ]  # fmt: skip
    told: set[str] = set()
    at = 0
    with collection_paused(), ExitStack() as stack:
        into_files = _reports.Files(wanted[1:], stack)
        progress = stack.enter_context(_progress.shown(run, quiet=quiet))
        runs = run.shared(len(wanted)) if len(wanted) > 1 else [run]
        renderings = [formats.named(to.form).render(shared, view) for to, shared, view in zip(wanted, runs, views)]
        for number, piece in _reports.side_by_side(renderings):
            if run.failures[at:] or (piece and not number):
                progress.clear()
            # what fails is told where it stands among the texts; one faulty progression not again for each of them
            for failure in run.failures[at:]:
                tell(failure, told)
            at = len(run.failures)
            if asked:
                asked.add(number, piece)
            if number:
                into_files.add(number - 1, piece)
            elif to_the_letter:
                write_document(piece)
            else:
                click.echo(piece, nl=False)
        progress.clear()
        for failure in run.failures[at:]:
            tell(failure, told)
        found = runs[0].exit_code(strict=strict)
        code = 0 if exit_zero and found == 1 else found
        notes = [*map(safe, session.mended), *(session.notes if printed.MACHINE else run.notes), *map(safe, run.aside)]
        if asked and not run.failures:
            asked.keep(session, notes, code, to_the_letter=to_the_letter)
        return _reports.finish(into_files, [*session.inputs(), *inputs], notes, code)


def _again_and_again(context: click.Context) -> int:
    """The check as it was asked for, after each change of a file."""
    from decodecheck.cli import _reports, _watch

    given = context.params
    outputs = [to.path for to in _reports.destinations(given["form"], given["outputs"], ())[1:]]
    # what is checked again has changed, so that no answer to it is kept
    return _watch.again_and_again(
        lambda: context.invoke(command, **given | {"watch": False, "no_cache": True}),
        lambda: context.meta[_watch.READ]() or {},
        given["files"],
        outputs,
    )
