"""What git knows of files: which have changed since a state, and what one held then.

git runs as a program of its own, without a shell, with a time limit; names of files come and go as bytes that end in NUL.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from unicodedata import normalize

from decodecheck.bounds import real
from decodecheck.errors import Problem, UserError
from decodecheck.source import LARGEST, shown

PATIENCE = 60.0
"""Seconds that git may take for one answer."""
ELSEWHERE = (
    "GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX", "GIT_COMMON_DIR", "GIT_OBJECT_DIRECTORY",
    "GIT_ALTERNATE_OBJECT_DIRECTORIES", "GIT_NAMESPACE", "GIT_CONFIG_PARAMETERS", "GIT_LITERAL_PATHSPECS", "GIT_GLOB_PATHSPECS",
)  # fmt: skip
"""Variables by which a hook of git says where its own repository is (git's manual, git(1) and githooks(5); from memory)."""
OPTION = "--changed-since"
NO_REPOSITORY = "no-repository"


class GitFailed(Exception):
    """git says no. Holds its first line."""


def ask(folder: Path, *arguments: str, most: int = LARGEST) -> bytes:
    """What git answers in a folder.

    Raises GitFailed where it says no, and UserError where it is not installed, takes too long or says more than `most` bytes.
    """
    environment = {name: value for name, value in os.environ.items() if name not in ELSEWHERE}
    environment |= {"LC_ALL": "C", "GIT_OPTIONAL_LOCKS": "0", "GIT_TERMINAL_PROMPT": "0"}
    # literal: * and : in the name of a file are no patterns
    command = ["git", "--literal-pathspecs", "-C", str(folder), *arguments]
    try:
        done = subprocess.run(
            command, stdin=subprocess.DEVNULL, capture_output=True, timeout=PATIENCE, env=environment, check=False
        )
    except subprocess.TimeoutExpired:
        what = f"git has not answered for {PATIENCE:g} seconds."
        raise UserError(Problem("git", what, f"Try `git status` there, or leave {OPTION} out.")) from None
    except FileNotFoundError:
        raise UserError(Problem("git", "git is not installed, or not on the path.", "Install it.")) from None
    except (OSError, ValueError) as error:
        raise UserError(Problem("git", f"git could not be started ({error}).", "Check how it is installed.")) from None
    if done.returncode:
        lines = done.stderr.decode("utf-8", "replace").split("\n")
        raise GitFailed(lines[0].removeprefix("fatal: ").strip() or f"exit code {done.returncode}")
    if len(done.stdout) > most:
        raise UserError(Problem("git", "git says more than can be read.", "Name fewer files."))
    return done.stdout


def _names(answer: bytes) -> list[str]:
    return [os.fsdecode(name) for name in answer.split(b"\0") if name]


@dataclass(frozen=True)
class Changes:
    """What has changed in one working tree since a state. `files` are those that differ, deleted ones and new ones included, as paths from
    the top; None where the whole tree is new."""

    top: Path
    files: frozenset[str] | None

    def has(self, path: str | Path) -> bool:
        """Whether a file has changed."""
        return self.files is None or any(name in self.files for name in self._inside(path))

    def under(self, folder: str | Path) -> bool:
        """Whether a file of a folder has changed, or a file of that name."""
        return self.files is None or any(
            name == file or name == "." or file.startswith(f"{name}/")
            for name in self._inside(folder)
            for file in self.files
        )

    def _inside(self, path: str | Path) -> set[str]:
        """How the tree names a file: for a link itself, and what it leads to."""
        itself = real(Path(path).parent) / Path(path).name if Path(path).name not in ("", "..") else real(path)
        found = (each.relative_to(self.top) for each in (itself, real(path)) if each.is_relative_to(self.top))
        return {_plain(each.as_posix()) for each in found}


def _plain(name: str) -> str:
    # one system writes é as one character, another as two
    return normalize("NFC", name)


@dataclass
class State:
    """A state of the project that has a name in git, such as a branch: `ref`, looked up in the repository in which the program runs; in a
    submodule, the state that the repository around it recorded then."""

    ref: str
    option: str = OPTION
    _changes: dict[Path, Changes] = field(default_factory=dict)

    @cached_property
    def _here(self) -> Path | None:
        return _top(Path.cwd())

    def changes(self, path: str | Path) -> Changes:
        """What has changed in the working tree in which a path lies. Raises UserError where it lies in none, or has no such state."""
        top = _top(real(path).parent if not Path(path).is_dir() else real(path))
        if top is None:
            what = "This is in no git repository, so it cannot be told what has changed."
            raise UserError(
                Problem(shown(str(path)), what, f"Leave {self.option} out, or name what is in one.", code=NO_REPOSITORY)
            )
        if top not in self._changes:
            try:
                self._changes[top] = Changes(top, self._differing(top))
            except GitFailed as error:
                raise UserError(self._said_no(error)) from None
        return self._changes[top]

    def knows(self, path: str) -> bool:
        """Whether a file is tracked, or new and not ignored. Raises UserError."""
        changes = self.changes(path)
        place = real(Path(path).parent) / Path(path).name
        name = str(place.relative_to(changes.top)) if place.is_relative_to(changes.top) else path
        try:
            return bool(ask(changes.top, "ls-files", "-z", "--cached", "--others", "--exclude-standard", "--", name))
        except GitFailed:
            return False

    def content(self, path: str) -> bytes | None:
        """What a file held then; None where it was not there. Raises UserError."""
        top = _top(real(path).parent)
        if top is None:
            what = "This is in no git repository, so there is no earlier state of it."
            raise UserError(Problem(shown(path), what, f"Leave {self.option} out, or name a file that is in one."))
        place = real(Path(path).parent) / Path(path).name
        try:
            commit = self._base(top)
            if commit is None:
                return None
            entry = ask(top, "ls-tree", "-z", commit, "--", place.relative_to(top).as_posix())
            if not entry.startswith(b"100"):
                return None
            return ask(top, "cat-file", "blob", entry.split()[2].decode("ascii"))
        except GitFailed as error:
            raise UserError(self._said_no(error)) from None

    def _differing(self, top: Path) -> frozenset[str] | None:
        commit = self._base(top)
        if commit is None:
            return None
        differs = ("diff", "--name-only", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-relative", "-z")
        names = _names(ask(top, *differs, commit, "--"))
        names += _names(ask(top, "ls-files", "--others", "--exclude-standard", "-z"))
        return frozenset(map(_plain, names))

    def _base(self, top: Path) -> str | None:
        """The commit that a working tree is held against; None where there was none. Raises GitFailed, UserError."""
        commit = self._commit(top)
        if commit is None:
            return None
        # what another branch has changed since this one left it is none of this one's changes; where there is no history in common, or
        # not enough of it here, everything that differs is
        with contextlib.suppress(GitFailed, IndexError):
            commit = ask(top, "merge-base", commit, "HEAD").decode("ascii").split()[0]
        return commit

    def _commit(self, top: Path) -> str | None:
        """The commit of the state in a repository; None where the repository was not there. Raises GitFailed, UserError."""
        around = os.fsdecode(ask(top, "rev-parse", "--show-superproject-working-tree").rstrip(b"\r\n"))
        if around and top != self._here:
            outer = real(around)
            commit = self._commit(outer)
            name = top.relative_to(outer).as_posix()
            entry = ask(outer, "ls-tree", "-z", commit, "--", name).split() if commit else []
            if len(entry) < 3 or entry[1] != b"commit":
                return None
            recorded = entry[2].decode("ascii")
            try:
                ask(top, "cat-file", "-e", f"{recorded}^{{commit}}")
            except GitFailed:
                return None
            return recorded
        if not self.ref or self.ref.startswith("-") or "\0" in self.ref:
            raise UserError(self._no_such_state())
        try:
            answer = ask(top, "rev-parse", "--verify", "--quiet", f"{self.ref}^{{commit}}")
        except GitFailed as error:
            try:
                ask(top, "rev-parse", "--git-dir")
            except GitFailed:
                raise error from None
            raise UserError(self._no_such_state()) from None
        return answer.decode("ascii").strip()

    def _no_such_state(self) -> Problem:
        what = f"git knows no state {self.ref!r} here: no branch, tag or commit of that name."
        return Problem(self.option, what, "Check the name; in a CI job, fetch the history, too.")

    def _said_no(self, error: GitFailed) -> Problem:
        return Problem("git", f"git cannot tell what has changed: {error}", "Put that right, or leave this option out.")


def _top(folder: Path) -> Path | None:
    """The top of the working tree in which a folder lies; None where it lies in none."""
    for place in (folder, *folder.parents):
        if os.path.lexists(place / ".git"):
            return place
    return None
