"""The command line: commands found by folder, loaded when called; every error a message and an exit code."""

from __future__ import annotations

import importlib
import os
import pkgutil
import sys
from typing import Any

import click

from decodecheck import __version__, cli
from decodecheck.errors import UserError, nearest

USAGE_ERROR = 2
STOPPED = 130
PIPE_CLOSED = 141


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
    sys.exit(run(sys.argv[1:]))


def run(arguments: list[str]) -> int:
    """Run one command line; returns its exit code: 0 fine, 1 findings, 2 wrong use or something unreadable."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        # not `main`, which keeps broken pipes and Ctrl-C to itself
        with decodecheck.make_context("decodecheck", list(arguments)) as context:
            code = decodecheck.invoke(context)
        sys.stdout.flush()
        return code if isinstance(code, int) else 0
    except click.exceptions.Exit as end:
        sys.stdout.flush()
        return end.exit_code
    except UserError as error:
        print(error, file=sys.stderr)
        return USAGE_ERROR
    except click.exceptions.NoArgsIsHelpError as error:
        print(error.format_message())
        return USAGE_ERROR
    except click.ClickException as error:
        print(f"decodecheck: {error.format_message()}", file=sys.stderr)
        where = getattr(error, "ctx", None)
        if where is not None:
            print(f"  See `{where.command_path} --help`.", file=sys.stderr)
        return USAGE_ERROR
    except (click.Abort, KeyboardInterrupt):
        print("decodecheck: stopped.", file=sys.stderr)
        return STOPPED
    except BrokenPipeError:
        # whoever read the output has gone; nothing more can be said there
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PIPE_CLOSED
