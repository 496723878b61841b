"""What is kept from one run of the program to the next, in the cache folder of the platform: a small database of answers.

Whatever is wrong with it, it only holds nothing: a damaged one is made anew, one that cannot be written stays as it is.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sqlite3
import sys
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

FOLDER = "DECODECHECK_CACHE"
"""The environment variable that names another folder; where it is set and empty, nothing is kept."""
NAME = "answers.sqlite"
BESIDE = ("", "-wal", "-shm", "-journal")
"""Ends of the names of the files that make up the database (sqlite.org, "Temporary Files Used By SQLite")."""
MOST = 64_000_000
"""Bytes of values that are kept; beyond that the oldest go."""
PATIENCE = 1.0
"""Seconds that another process is waited for."""
DAY = 86_400
CHECK = 16
SCHEMA = "CREATE TABLE IF NOT EXISTS kept (key BLOB PRIMARY KEY, used INTEGER NOT NULL, value BLOB NOT NULL)"


def cache_folder(environment: Mapping[str, str] = os.environ, system: str = sys.platform) -> Path | None:
    """The folder in which answers are kept; None where nothing is to be kept.

    Source: the XDG Base Directory Specification 0.8 (XDG_CACHE_HOME); Apple's File System Programming Guide (Library/Caches) and
    Microsoft's KNOWNFOLDERID (LocalAppData), both from memory.
    """
    if FOLDER in environment:
        return Path(environment[FOLDER]) if environment[FOLDER] else None
    home = environment.get("USERPROFILE" if system == "win32" else "HOME", "")
    base = environment.get("LOCALAPPDATA" if system == "win32" else "XDG_CACHE_HOME", "")
    if system != "darwin" and base and Path(base).is_absolute():
        return Path(base) / "decodecheck"
    if not home or not Path(home).is_absolute():
        return None
    beside = {"win32": ("AppData", "Local"), "darwin": ("Library", "Caches")}.get(system, (".cache",))
    return Path(home, *beside, "decodecheck")


class Kept:
    """The database in a folder, which is opened when it is first asked. Nothing here raises: what cannot be had is not there.

    `most` are the bytes of values that it holds.
    """

    def __init__(self, folder: Path | None, most: int = MOST) -> None:
        self.folder = folder
        self.most = most
        self._open: sqlite3.Connection | None = None

    def get(self, key: bytes) -> bytes | None:
        """The value of a key; None where there is none, or where it is damaged."""
        with self._mended() as database:
            row = (
                database.execute("SELECT value, used FROM kept WHERE key = ?", (key,)).fetchone() if database else None
            )
            if not row or not isinstance(row[0], bytes) or row[0][:CHECK] != _check(key, row[0][CHECK:]):
                return None
            if database and abs(time.time() - row[1]) > DAY:
                with contextlib.suppress(sqlite3.Error):
                    database.execute("UPDATE kept SET used = ? WHERE key = ?", (int(time.time()), key))
            return row[0][CHECK:]
        return None

    def put(self, key: bytes, value: bytes) -> None:
        """Keep a value under a key, in the place of an older one; the values that were used longest ago make room for it."""
        if len(value) > self.most // 4:
            return
        for _ in range(2):
            # the second time after a damaged one was taken away
            with self._mended() as database:
                if database:
                    self._put(database, key, value)
                    return

    def _put(self, database: sqlite3.Connection, key: bytes, value: bytes) -> None:
        database.execute("BEGIN IMMEDIATE")
        try:
            row = key, int(time.time()), _check(key, value) + value
            database.execute("INSERT OR REPLACE INTO kept VALUES (?, ?, ?)", row)
            sizes = database.execute("SELECT key, length(value) FROM kept ORDER BY used DESC, rowid DESC").fetchall()
            held = 0
            for old, size in sizes:
                held += size
                if held > self.most and old != key:
                    database.execute("DELETE FROM kept WHERE key = ?", (old,))
            database.execute("COMMIT")
        except BaseException:
            with contextlib.suppress(sqlite3.Error):
                database.execute("ROLLBACK")
            raise

    @contextlib.contextmanager
    def _mended(self) -> Iterator[sqlite3.Connection | None]:
        """The open database; None where there can be none. One that is damaged is thrown away."""
        try:
            if self._open is None and self.folder is not None:
                self._open = self._opened(self.folder)
        except (sqlite3.Error, OSError, ValueError) as error:
            self._failed(error)
        try:
            yield self._open
        except (sqlite3.Error, OSError, ValueError) as error:
            self._failed(error)

    def _opened(self, folder: Path) -> sqlite3.Connection:
        path = folder / NAME
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        # others are to read nothing of it: SQLite gives the files beside it the same mode
        os.close(os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600))
        status = path.stat()
        if hasattr(os, "getuid") and status.st_uid != os.getuid():
            raise PermissionError
        if status.st_mode & 0o077 and os.name == "posix":
            path.chmod(0o600)
        database = sqlite3.connect(path, timeout=PATIENCE, isolation_level=None)
        try:
            database.execute("PRAGMA journal_mode = WAL")
            database.execute("PRAGMA synchronous = NORMAL")
            database.execute(SCHEMA)
        except BaseException:
            database.close()
            raise
        return database

    def _failed(self, error: Exception) -> None:
        """Close the database; one that is damaged is taken away, so that the next is made anew."""
        self.close()
        # what is locked or full is well: of these SQLite has an error of their own
        if isinstance(error, sqlite3.DatabaseError) and not isinstance(error, sqlite3.OperationalError):
            self.clear()

    def clear(self) -> int:
        """Take away all that is kept; returns how many bytes that were."""
        self.close()
        size = self.size()
        for path in self._files():
            with contextlib.suppress(OSError, ValueError):
                path.unlink()
        return size

    def size(self) -> int:
        """How many bytes the files take."""
        size = 0
        for path in self._files():
            with contextlib.suppress(OSError, ValueError):
                size += path.stat().st_size
        return size

    def _files(self) -> list[Path]:
        return [self.folder / f"{NAME}{end}" for end in BESIDE] if self.folder else []

    def close(self) -> None:
        """Close the database; it is opened again when it is asked."""
        if self._open is not None:
            with contextlib.suppress(sqlite3.Error):
                self._open.close()
            self._open = None


def _check(key: bytes, value: bytes) -> bytes:
    """By this a value is known to be whole, and that of its key."""
    return hashlib.blake2b(value, key=key[:64], digest_size=CHECK).digest()
