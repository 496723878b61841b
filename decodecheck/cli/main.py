"""The command line: commands found by folder, loaded when called; every error a message and an exit code."""

from __future__ import annotations

import gc
import importlib
import os
import pkgutil
import sys
from typing import Any, TextIO

import click

from decodecheck import __version__, cli
from decodecheck.cli._streams import OutputError, reason, safe_streams
from decodecheck.errors import TRACEBACK, Problem, UserError, nearest, shortened
from decodecheck.printing import safe_lines

FAILED = 2
"""The exit code of whatever was not done to its end: used wrongly, unreadable, stopped, or its reader has gone. What was not checked
cannot be called fine, and a program that reads exit codes knows 0, 1 and 2."""
STOPPED = "decodecheck: stopped."
ASKED_BY_A_SHELL = "_DECODECHECK_COMPLETE"
"""The environment variable by which a shell asks what may come next."""


class LazyGroup(click.Group):
    """A group whose commands are the modules `NAME.py` of a package, imported only when they are needed."""

    package: Any = cli

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of the modules that hold a command."""
        return sorted(
            m.name
            for m in pkgutil.iter_modules(self.package.__path__)
            if m.name != "main" and not m.name.startswith("_")
        )

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The `command` of the module of that name."""
        if cmd_name not in self.list_commands(ctx):
            return None
        command: click.Command = importlib.import_module(f"{self.package.__name__}.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is meant. Raises UsageError, with the nearest name, for an unknown one."""
        name = args[0]
        if name[:1] != "-" and name not in self.list_commands(ctx):
            close = nearest(name, self.list_commands(ctx), most=1)
            ctx.fail(f"No such command '{name}'." + (f" Did you mean `{close[0]}`?" if close else ""))
        return super().resolve_command(ctx, args)


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="decodecheck %(version)s")
def decodecheck() -> None:
    """Check which words of a text a child can decode with what has been taught."""


def main() -> None:
    """Run the command line and exit."""
    code = run(sys.argv[1:])
    if sys.stdout is not None:
        try:
            # what fails only when the file is closed, such as a full disk far away, is told here or never
            sys.stdout.flush()
            os.close(sys.stdout.fileno())
        except (OSError, ValueError) as error:
            code = FAILED
            if not isinstance(error, ValueError):
                _tell(f"decodecheck: the output cannot be written: {reason(error)}.")
    if sys.stdout is not None:
        # nothing is left to say, and Python would complain of a stream that cannot take it
        sys.stdout = None
    # the process ends, and all its memory with it: to look through that for rubbish takes a tenth of the time of `explain`
    gc.freeze()
    gc.disable()
    sys.exit(code)


def run(arguments: list[str]) -> int:
    """Run one command line; returns its exit code: 0 fine, 1 findings, 2 wrong use or something unreadable."""
    out = sys.stdout
    try:
        with safe_streams():
            code = _answer(arguments)
            sys.stdout.flush()
            return code
    except OutputError as error:
        _leave(out)
        _tell(f"decodecheck: the output cannot be written: {error}.")
        return FAILED
    except BrokenPipeError:
        # whoever read the output has gone; nothing more can be said there
        _leave(out)
        return FAILED
    except KeyboardInterrupt:
        # pressed while the last lines were on their way out
        _leave(out)
        _tell(STOPPED)
        return FAILED


def _answer(arguments: list[str]) -> int:
    """Run a command line with everything that can go wrong in it told; only failing output is left to the caller."""
    try:
        asked = os.environ.get(ASKED_BY_A_SHELL)
        if asked:
            from decodecheck.cli.completion import answer

            return answer(decodecheck, asked)
        _refuse_files_like_options(arguments)
        # not `main`, which keeps broken pipes and Ctrl-C to itself
        with decodecheck.make_context("decodecheck", list(arguments)) as context:
            code = decodecheck.invoke(context)
        return code if isinstance(code, int) else 0
    except click.exceptions.Exit as end:
        return end.exit_code
    except UserError as error:
        print(error, file=sys.stderr)
        return FAILED
    except click.exceptions.NoArgsIsHelpError as error:
        print(error.format_message())
        return FAILED
    except click.ClickException as error:
        print(f"decodecheck: {error.format_message()}", file=sys.stderr)
        where = getattr(error, "ctx", None)
        if where is not None:
            print(f"  See `{where.command_path} --help`.", file=sys.stderr)
        return FAILED
    except (click.Abort, KeyboardInterrupt):
        print(STOPPED, file=sys.stderr)
        return FAILED
    except (OutputError, BrokenPipeError):
        raise
    except Exception as error:
        if os.environ.get(TRACEBACK):
            import traceback

            traceback.print_exc()
        said = shortened(" ".join(f"{type(error).__name__}: {error}".split()))
        print(f"decodecheck: internal error: {said}", file=sys.stderr)
        print(f"  The fault is the program's. Please report it, with what {TRACEBACK}=1 prints.", file=sys.stderr)
        return FAILED


def _refuse_files_like_options(arguments: list[str]) -> None:
    """Raises UserError where an option is also the name of a file here: `*.txt` may have put it there."""
    options = arguments[: arguments.index("--")] if "--" in arguments else arguments
    for argument in options:
        if argument.startswith("-") and argument != "-" and "\0" not in argument and os.path.lexists(argument):
            what = "This is an option, and the name of a file in this folder."
            raise UserError(Problem(argument, what, "Put -- before the names of files, or rename the file."))


def _leave(out: TextIO | None) -> None:
    """Let what still waits for a stream that takes nothing any more go nowhere."""
    try:
        if out is not None:
            os.dup2(os.open(os.devnull, os.O_WRONLY), out.fileno())
    except (OSError, ValueError):
        pass


def _tell(text: str) -> None:
    """A last line on standard error, if that can still be written to."""
    try:
        if sys.stderr is not None:
            print(safe_lines(text), file=sys.stderr, flush=True)
    except (OSError, ValueError):
        _leave(sys.stderr)
