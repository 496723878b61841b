"""`decodecheck completion`: what a shell needs to complete commands, options and their values."""

from __future__ import annotations

import click
from click.shell_completion import BashComplete, FishComplete, ZshComplete

from decodecheck.cli.main import ASKED_BY_A_SHELL, decodecheck
from decodecheck.errors import Problem, UserError

NAME = "decodecheck"
SHELLS = {"bash": BashComplete, "zsh": ZshComplete, "fish": FishComplete}


@click.command(name="completion")
@click.argument("shell", type=click.Choice([*SHELLS]))
def command(shell: str) -> int:
    """Print a script for completion in SHELL: of commands, options, values.

    \b
    bash: add to ~/.bashrc    eval "$(decodecheck completion bash)"
    zsh:  add to ~/.zshrc     eval "$(decodecheck completion zsh)"
    fish: decodecheck completion fish > ~/.config/fish/completions/decodecheck.fish
    """
    try:
        script = SHELLS[shell](decodecheck, {}, NAME, ASKED_BY_A_SHELL).source()
    except RuntimeError as error:
        # an old bash; click says which it wants
        raise UserError(Problem("completion", str(error), "Install a newer one.")) from None
    click.echo(script)
    return 0


def answer(group: click.Group, question: str) -> int:
    """Print what may come next, as a shell asks by the environment variable: bash_complete. Raises UserError for another question."""
    shell, _, wanted = question.partition("_")
    if shell not in SHELLS or wanted != "complete":
        what = f"This is no question of a shell: {question!r}."
        raise UserError(Problem(ASKED_BY_A_SHELL, what, "Take the variable out of the environment."))
    # not click's own way in, which writes bytes
    click.echo(SHELLS[shell](group, {}, NAME, ASKED_BY_A_SHELL).complete())
    return 0
