"""`check --watch`: checks again whenever a file is saved that the report depends on.

Files are looked at a few times a second, which takes a hundredth of the time of a processor for a thousand of them. The system could tell of changes
(watchfiles does), but not on drives of a network, and not of files outside of the folders that are watched; each way of saving looks different there.
Here a file has changed when it is not what it was, however that came about.
"""

from __future__ import annotations

import os
import stat
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path

import click

from decodecheck.cli._streams import Stream
from decodecheck.documents.reading import suffixes
from decodecheck.documents.sheets import SUFFIXES
from decodecheck.errors import UserError, count
from decodecheck.printing import safe
from decodecheck.project.looked_at import STEERING, State
from decodecheck.source import shown

READ = f"{__name__}.read"
"""Where a check leaves, in the `meta` of click's context, what it has read: a function that gives the files with their states."""
EVERY = 0.25
"""Seconds between two looks."""
STILL = 0.08
"""Seconds without a change after which a file is taken to be saved."""
LONGEST_WAIT = 2.0
SPARING = 50
"""A look takes at most so small a part of the time."""
MOST_NAMED = 3
CLEAR = "\x1b[2J\x1b[3J\x1b[H"
"""Erase the screen and what has scrolled out of it, and go to its start (ECMA-48, 8.3.39 ED and 8.3.21 CUP; 3J is xterm's)."""
States = dict[str, State]


def again_and_again(
    check: Callable[[], object],
    read: Callable[[], Mapping[str, State]],
    files: Sequence[str],
    written: Iterable[str],
) -> int:
    """Run `check`, and again after each change, until Ctrl-C; then 0. `read` gives what it has read, `written` are its reports.

    Raises UserError where the first check cannot be made at all.
    """
    places = Places(files, written)
    try:
        before = places.look()
        check()
        while True:
            before = places.learn(read(), before)
            sys.stdout.flush()
            click.echo(f"Watching {count(len(before), 'file')}. Ctrl-C ends it.", err=True)
            before, changed = places.wait(before)
            _announce(changed)
            try:
                check()
            except UserError as error:
                click.echo(str(error), err=True)
    except KeyboardInterrupt:
        return 0


def _announce(changed: Sequence[str]) -> None:
    """A new screen, and what has changed."""
    out = sys.stdout
    if isinstance(out, Stream) and out.isatty() and os.environ.get("TERM") != "dumb":
        out.write_document(CLEAR)
        out.flush()
    named = ", ".join(safe(shown(path)) for path in changed[:MOST_NAMED])
    more = f" and {len(changed) - MOST_NAMED} more" if len(changed) > MOST_NAMED else ""
    click.echo(f"Checked again after a change: {named}{more}", err=True)


class Places:
    """Where changes are looked for: the files and folders that were named, and the folders of all that was read."""

    def __init__(self, files: Sequence[str], written: Iterable[str]) -> None:
        paths = dict.fromkeys(map(_absolute, files))
        self._trees = [path for path in paths if Path(path).is_dir()]
        self._files = {path: None for path in paths if path not in self._trees}
        self._folders: dict[str, None] = {}
        self._steering: dict[str, None] = {}
        self._written = {place for path in written for place in (_absolute(path), os.path.realpath(path))}
        self._suffixes = (*suffixes(), *SUFFIXES, ".progression", ".toml")
        self._look_beside(paths)

    def _look_beside(self, paths: Iterable[str]) -> None:
        """Look at the folders of files, and for what steers them there and above, as they are named and as they are without links."""
        for folder in {os.path.split(place)[0] for path in paths for place in (path, os.path.realpath(path))}:
            self._folders[folder] = None
            for place in (Path(folder), *Path(folder).parents):
                self._steering |= dict.fromkeys(str(place / name) for name in STEERING if name != ".git")

    def learn(self, read: Mapping[str, State], before: States) -> States:
        """Look at what was read from now on, too; returns the states before, with those in which it was read."""
        known = {_absolute(path): state for path, state in read.items() if path != "-"}
        new = [path for path in known if path not in self._files]
        self._files |= dict.fromkeys(new)
        self._look_beside(new)
        now = self.look()
        # what is looked at for the first time was read as it is said to be
        return {**before, **{path: known.get(path) or now[path] for path in now if path not in before}}

    def wait(self, before: States) -> tuple[States, list[str]]:
        """Wait for a change, and until it is over; returns the new states, and the files that have changed."""
        start = time.monotonic()
        now = self.look()
        pause = max(EVERY, SPARING * (time.monotonic() - start))
        while now == before:
            time.sleep(pause)
            now = self.look()
        end = time.monotonic() + LONGEST_WAIT
        while time.monotonic() < end:
            time.sleep(STILL)
            last, now = now, self.look()
            if now == last:
                break
        changed = [path for path in {**before, **now} if before.get(path) != now.get(path)]
        return now, [*dict.fromkeys(_from_here(os.path.realpath(path)) for path in changed)]

    def look(self) -> States:
        """Every file that counts, with its state; what is not there is left out."""
        found = {path: _state(path) for path in (*self._files, *self._steering)}
        for folder in self._folders:
            found |= self._in(folder, below=False)
        for tree in self._trees:
            found |= self._in(tree, below=True)
        return {path: state for path, state in found.items() if state and path not in self._written}

    def _in(self, folder: str, *, below: bool) -> Iterator[tuple[str, State]]:
        waiting = [folder]
        while waiting:
            try:
                with os.scandir(waiting.pop()) as entries:
                    for entry in entries:
                        if entry.name.startswith(".") and entry.name not in STEERING:
                            continue
                        if entry.is_dir(follow_symlinks=False):
                            waiting += [entry.path] if below else []
                        elif entry.name.lower().endswith(self._suffixes):
                            yield entry.path, _state(entry.path)
            except OSError:
                continue


def _absolute(path: str) -> str:
    return os.path.abspath(path)  # noqa: PTH100 (links stay)


def _from_here(path: str) -> str:
    here = Path(os.path.realpath(Path.cwd()))
    return str(Path(path).relative_to(here)) if Path(path).is_relative_to(here) else path


def _state(path: str) -> State:
    """As `looked_at.state_of`, None for what is no ordinary file."""
    try:
        status = os.stat(path)  # noqa: PTH116 (quick)
    except (OSError, ValueError):
        return None
    return (status.st_mtime_ns, status.st_size, status.st_ino) if stat.S_ISREG(status.st_mode) else None
