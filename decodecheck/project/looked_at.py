"""What the answer to a check depends on: the program, the names in the folders that are searched, and what the files hold.

A digest of all this tells whether an answer that was given before would be given again. Nothing of the lexicon is loaded for it.
"""

from __future__ import annotations

import hashlib
import os
import stat
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from decodecheck import __version__
from decodecheck.bounds import CONFIG
from decodecheck.resources import PACKAGE, rules_folder

STEERING = (CONFIG, "pyproject.toml", ".gitignore", ".git")
"""Names that decide on other files, in their own folder and below it."""
PIECE = 1 << 20
NO_FOLLOW = getattr(os, "O_NOFOLLOW", 0)
"""0 on systems that cannot be told to follow no link."""
Digest = bytes
State = tuple[int, int, int] | None
"""What changes when a file does; None where there is none."""


class _Hash:
    """A hash of parts, each with its length, so that no two rows of parts are alike."""

    def __init__(self) -> None:
        self._hash = hashlib.blake2b(digest_size=24)

    def add(self, *parts: str | bytes) -> None:
        for part in parts:
            data = part if isinstance(part, bytes) else part.encode("utf-8", "surrogatepass")
            self._hash.update(b"%d:" % len(data))
            self._hash.update(data)

    def digest(self) -> Digest:
        return self._hash.digest()


def digest_of(*parts: str | bytes) -> Digest:
    """A digest of some parts."""
    found = _Hash()
    found.add(*parts)
    return found.digest()


def state_of_program() -> Digest:
    """What changes whenever a file of the program does, or a library is put in, taken out or renewed: the files by size, number and times.

    The system sets the time of a change (`st_ctime`) itself, so that no file changes unseen.
    """
    found = _Hash()
    found.add(__version__, sys.version, sys.getfilesystemencoding())
    for path, status in _program_files():
        found.add(path, f"{status.st_size} {status.st_mtime_ns} {status.st_ctime_ns} {status.st_ino}")
    return found.digest()


def program() -> Digest:
    """A digest of what the program is made of: its modules, data, compiled lexicon, the versions of Python and of all libraries."""
    found = _Hash()
    found.add(__version__, sys.version, sys.getfilesystemencoding())
    for path, _ in _program_files():
        if path.endswith((".dist-info", ".egg-info")):
            found.add(os.path.basename(path))  # noqa: PTH119 (a path for each file would be slow)
        else:
            base = rules_folder() if path.startswith(str(rules_folder())) else PACKAGE
            found.add(os.path.relpath(path, base), _content(path)[0])
    return found.digest()


def _program_files() -> Iterator[tuple[str, os.stat_result]]:
    folders = [str(PACKAGE)] if rules_folder().is_relative_to(PACKAGE) else [str(PACKAGE), str(rules_folder())]
    while folders:
        with os.scandir(folders.pop()) as entries:
            for entry in sorted(entries, key=lambda e: e.name):
                if entry.is_dir():
                    folders += [entry.path] if entry.name != "__pycache__" else []
                else:
                    yield entry.path, entry.stat()
    for place in sys.path:
        try:
            names = sorted(n for n in os.listdir(place or ".") if n.endswith((".dist-info", ".egg-info")))  # noqa: PTH208 (quick)
        except OSError:
            continue
        for name in names:
            # the time of a folder tells that it was put in anew
            yield os.path.join(place, name), os.stat(os.path.join(place, name))  # noqa: PTH116, PTH118 (a path for each file would be slow)


def names(paths: Sequence[str], others: Iterable[str] = ()) -> Digest:
    """A digest of where the program runs, of the names in the folders under `paths`, and of what decides on files there and above them.

    `others` are files outside of the paths that are read, too. Raises OSError, ValueError where something cannot be looked at.
    """
    found = _Hash()
    here = os.getcwd()  # noqa: PTH109 (a path for each file would be slow)
    found.add(here)
    above: dict[str, None] = {}
    for path in [*paths, *others]:
        folder, name = os.path.split(os.path.abspath(path))  # noqa: PTH100 (a path for each file would be slow)
        status = os.stat(path)  # noqa: PTH116 (a path for each file would be slow)
        link = os.path.realpath(path) if os.path.islink(path) else ""  # noqa: PTH114 (a path for each file would be slow)
        found.add(path, name, f"{stat.S_IFMT(status.st_mode)}", link)
        above.setdefault(folder)
        if stat.S_ISDIR(status.st_mode):
            _add_folder(found, path)
            above.setdefault(os.path.abspath(path))  # noqa: PTH100 (a path for each file would be slow)
        if link:
            above.setdefault(os.path.dirname(link))  # noqa: PTH120 (a path for each file would be slow)
    above.setdefault(here)
    _add_above(found, above)
    return found.digest()


def _add_folder(found: _Hash, root: str) -> None:
    """The names below a folder, with where links lead; hidden ones only where they decide on others."""
    waiting = [root]
    while waiting:
        place = waiting.pop()
        found.add(place)
        with os.scandir(place) as entries:
            for entry in sorted(entries, key=lambda e: e.name):
                if entry.name in STEERING:
                    _add_steering(found, entry.path)
                elif entry.name[0] == ".":
                    continue
                if entry.is_symlink():
                    found.add(entry.name, "link", os.path.realpath(entry.path))
                elif entry.is_dir():
                    found.add(entry.name, "folder")
                    waiting.append(entry.path)
                else:
                    found.add(entry.name, "file" if entry.is_file() else "other")


def _add_above(found: _Hash, folders: Iterable[str]) -> None:
    """What in folders, and in all above them, decides on files; both as they are named and as they are without links."""
    places: dict[str, None] = {}
    for folder in folders:
        for named in (folder, os.path.realpath(folder)):
            at = Path(named)
            places |= dict.fromkeys(str(place) for place in (at, *at.parents) if str(place) not in places)
        found.add(folder, os.path.realpath(folder))
    for place in places:
        for name in STEERING:
            _add_steering(found, os.path.join(place, name))  # noqa: PTH118 (a path for each file would be slow)


def _add_steering(found: _Hash, path: str) -> None:
    if not os.path.lexists(path):
        return
    if os.path.basename(path) == ".git":  # noqa: PTH119 (a path for each file would be slow)
        found.add(path, _content(os.path.join(path, "info", "exclude"))[0])  # noqa: PTH118 (a path for each file would be slow)
    else:
        found.add(path, os.path.realpath(path), _content(path)[0])


def contents(paths: Iterable[str]) -> tuple[Digest, int]:
    """A digest of what files hold and where links lead on the way to them, and when the one that was changed last was changed, in nanoseconds.

    What is no ordinary file, or cannot be read, counts as such.
    """
    found, youngest = _Hash(), 0
    folders: dict[str, str] = {}
    for path in paths:
        try:
            content, changed = _content(path, follow=False)
            link = ""
        except IsALink:
            content, changed = _content(path)
            link = os.path.realpath(path)
        folder = os.path.dirname(path)  # noqa: PTH120 (a path for each file would be slow)
        if folder not in folders:
            folders[folder] = os.path.realpath(folder)
        found.add(path, content, folders[folder], link)
        youngest = max(youngest, changed)
    return found.digest(), youngest


def state_of(path: str) -> State:
    """What changes when a file does; None where there is none."""
    try:
        status = os.stat(path)  # noqa: PTH116 (a path for each file would be slow)
    except (OSError, ValueError):
        return None
    return status.st_mtime_ns, status.st_size, status.st_ino


class IsALink(Exception):
    """What was to be opened is a link, and none is followed."""


def _content(path: str, *, follow: bool = True) -> tuple[bytes, int]:
    """What an ordinary file holds, or a digest of it where it is long; and when it was changed. Nothing is waited for.

    Raises IsALink where none is to be followed.
    """
    if not follow and not NO_FOLLOW and os.path.islink(path):  # noqa: PTH114 (a path for each file would be slow)
        raise IsALink
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags if follow else flags | NO_FOLLOW)
    except (OSError, ValueError) as error:
        if not follow and isinstance(error, OSError) and os.path.islink(path):  # noqa: PTH114 (a path for each file would be slow)
            raise IsALink from None
        return b"?" + type(error).__name__.encode(), 0
    try:
        status = os.fstat(handle)
        if not stat.S_ISREG(status.st_mode):
            return b"?", 0
        data = os.read(handle, min(PIECE, status.st_size + 1))
        if len(data) == status.st_size < PIECE:
            return b"=" + data, status.st_ctime_ns
        whole = hashlib.blake2b(data)
        while data := os.read(handle, PIECE):
            whole.update(data)
        return b"#" + whole.digest(), status.st_ctime_ns
    except OSError as error:
        return b"?" + type(error).__name__.encode(), 0
    finally:
        os.close(handle)
