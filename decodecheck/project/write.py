"""Write a file whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import IO

from decodecheck.bounds import real
from decodecheck.errors import Problem, UserError
from decodecheck.source import shown, unreadable

ENDING = ".decodecheck-tmp"
"""How a file ends that is being written; one that is left over, after a power cut, may be thrown away."""
NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK)
"""What a disk says that knows no second name for a file."""
FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


def write_safely(
    path: Path, content: str | bytes | IO[bytes], *, new: bool = False, read: Iterable[str] = (), what: str = "page"
) -> None:
    """Replace a file's content in one step, keeping its permissions; a new file gets those that the system gives new files.

    `content` may be an open file, which is copied from where it stands. `new`: the file must not be there; of several that are
    written at once under one name, one is. `read` are files that are never replaced, since they were read to make `what`. Raises
    UserError; the old file is then untouched.
    """
    with _told(path):
        target, mode = _ready(path, new, read, what)
        _write(target, mode, content.encode("utf-8") if isinstance(content, str) else content, new)


def refuse_unwritable(path: Path, *, read: Iterable[str] = (), what: str = "page") -> None:
    """Raises UserError where it can be told beforehand that a file could not be written: before long work, not after it."""
    with _told(path):
        _ready(path, False, read, what)


@contextlib.contextmanager
def _told(path: Path) -> Iterator[None]:
    """Whatever the system says against a path, as a UserError."""
    try:
        yield
    except FileExistsError:
        raise UserError(there_already(str(path))) from None
    except OSError as error:
        raise UserError(_unwritable(path, error)) from None
    except ValueError:
        raise UserError(
            Problem(shown(str(path)), "This cannot be written: it is no path.", "Check the path.")
        ) from None


def there_already(path: str) -> Problem:
    """What is said of a new file whose name is taken."""
    return Problem(shown(path), "This file is there already.", "Name another, or move it away first.")


def _ready(path: Path, new: bool, read: Iterable[str], what: str) -> tuple[Path, int | None]:
    """The file that is written, without links, and the mode of the one that it replaces."""
    target = real(path)
    if not target.parent.is_dir():
        raise UserError(
            Problem(
                shown(str(path)),
                f"There is no folder {path.parent} to write it into.",
                "Make the folder first, or name another.",
            )
        )
    mode = _old_mode(path, target, read, what)
    if new and (mode is not None or os.path.lexists(path)):
        raise FileExistsError
    return target, mode


def _write(target: Path, mode: int | None, data: bytes | IO[bytes], new: bool) -> None:
    waiting = target.parent / f".{target.name[:40]}.{os.urandom(4).hex()}{ENDING}"
    handle = os.open(waiting, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            if isinstance(data, bytes):
                file.write(data)
            else:
                shutil.copyfileobj(data, file)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            waiting.chmod(mode & 0o7777)
        if new:
            _take_name(waiting, target)
        else:
            waiting.replace(target)
    finally:
        with contextlib.suppress(FileNotFoundError):
            waiting.unlink()


def _old_mode(path: Path, target: Path, read: Iterable[str], made: str) -> int | None:
    """The mode of the file that is replaced; None for a new one. Raises UserError where it may not be."""
    try:
        status = target.stat()
    except FileNotFoundError:
        return None
    if target.is_dir():
        raise UserError(Problem(shown(str(path)), "This is a folder.", "Name a file to write."))
    if not target.is_file():
        raise UserError(Problem(shown(str(path)), "This is no ordinary file; it is not written over.", "Name another."))
    if any(_same(target, name) for name in read):
        what = f"This file is what the {made} is made of."
        raise UserError(Problem(shown(str(path)), what, "Name another --output."))
    if not status.st_mode & 0o222 or not os.access(target, os.W_OK):
        raise UserError(
            Problem(shown(str(path)), "This file may only be read.", "Name another, or make it writable first.")
        )
    return status.st_mode


def _same(target: Path, name: str) -> bool:
    try:
        return name != "-" and target.samefile(name)
    except (OSError, ValueError):
        return False


def _take_name(waiting: Path, target: Path) -> None:
    """Give a new file its name, unless that is taken. Raises FileExistsError."""
    try:
        os.link(waiting, target)
    except OSError as error:
        if error.errno not in NO_LINKS:
            raise
        # no second names on this disk: the name is taken first, then the file moved there
        os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
        waiting.replace(target)


def _unwritable(path: Path, error: OSError) -> Problem:
    name = shown(str(path))
    if error.errno in FULL:
        return Problem(
            name, "This file cannot be written: there is no room left.", "Make room on the disk, or name another place."
        )
    if error.errno in (errno.ELOOP, errno.ENAMETOOLONG):
        return unreadable(str(path), error)
    why = error.strerror or type(error).__name__
    return Problem(name, f"This file cannot be written ({why}).", "Check the folder's permissions.")
