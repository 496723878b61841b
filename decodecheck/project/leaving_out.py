"""What of a folder is left out on purpose: by the .gitignore files of its repository, and by `exclude` of its configuration."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING

from decodecheck.bounds import real
from decodecheck.errors import Problem, UserError
from decodecheck.project.config import Config, find_config
from decodecheck.source import shown, unreadable

if TYPE_CHECKING:
    from pathspec import GitIgnoreSpec

GITIGNORE, EXCLUDE = ".gitignore", "`exclude`"
"""What leaves something out, as people are told."""
MOST_STARS = 3
"""Stars in one part of a pattern, and double stars in all of it: the time that a pattern takes grows with their number."""
LARGEST = 1_000_000
_STARS = re.compile(r"\*+")


class LeavingOut:
    """Tells what is left out; every file that says so is read once. What is wrong with one is among the `problems`."""

    def __init__(self) -> None:
        self.problems: list[tuple[str, Problem]] = []
        self._specs: dict[Path, GitIgnoreSpec | None] = {}
        self._chains: dict[tuple[Path, Path], list[tuple[Path, GitIgnoreSpec]]] = {}
        self._configs: dict[Path, Config | None] = {}

    def by(self, home: Path, name: str, top: Path, *, folder: bool) -> str:
        """What leaves out a file or a folder that lies in `home`, a folder that is looked through from `top` on; "" for nothing. Paths are
        without links.

        Whatever leaves out `top` itself is not asked: that was named.
        """
        config = self._config(home)
        if config and config.exclude and config.excludes(home / name):
            return EXCLUDE
        # of all patterns that fit, the last one of the innermost file decides (git, gitignore(5))
        for base, spec in reversed(self._chain(home, top)):
            found = _said(spec, (home / name).relative_to(base).as_posix() + "/" * folder)
            if found is not None:
                return GITIGNORE if found else ""
        return ""

    def by_any(self, path: Path) -> str:
        """What leaves out a file or folder that was named, or a folder that it lies in; "" for nothing."""
        root = _root(path.parent)
        config = self._config(path.parent)
        tops = [folder for folder in (root, real(config.path.parent) if config else None) if folder]
        if not tops:
            return ""
        top = min(tops, key=lambda folder: len(folder.parts))
        parts = path.relative_to(top).parts
        for number in range(1, len(parts) + 1):
            here = top.joinpath(*parts[:number])
            found = self.by(here.parent, here.name, top, folder=here.is_dir())
            if found:
                return found
        return ""

    def _config(self, folder: Path) -> Config | None:
        if folder not in self._configs:
            try:
                self._configs[folder] = find_config(folder)
            except UserError:
                # that is told with every text of the folder
                self._configs[folder] = None
        return self._configs[folder]

    def _chain(self, folder: Path, top: Path) -> list[tuple[Path, GitIgnoreSpec]]:
        """The patterns that hold in a folder, the outermost first, each with the folder that they count from."""
        known = self._chains.get((folder, top))
        if known is not None:
            return known
        root = _root(folder)
        outermost = root or top
        if folder == outermost or outermost not in folder.parents:
            before = self._of(root, _info_exclude(root)) if root and folder == root else []
        else:
            before = self._chain(folder.parent, top)
            if folder == top and self.by(folder.parent, folder.name, top, folder=True) == GITIGNORE:
                # it was named all the same, so what is said from above does not count in it
                before = []
        chain = [*before, *self._of(folder, folder / GITIGNORE)]
        self._chains[folder, top] = chain
        return chain

    def _of(self, base: Path, file: Path) -> list[tuple[Path, GitIgnoreSpec]]:
        if file not in self._specs:
            self._specs[file] = self._read(file)
        spec = self._specs[file]
        return [(base, spec)] if spec else []

    def _read(self, file: Path) -> GitIgnoreSpec | None:
        # git follows no link here either (since 2.32), nor is a folder of that name one
        if file.is_symlink() or not file.is_file():
            return None
        try:
            with file.open("rb") as opened:
                data = opened.read(LARGEST + 1)
        except OSError as error:
            self.problems.append((str(file), unreadable(_named(file), error)))
            return None
        if len(data) > LARGEST:
            what = f"This file is too large for patterns: more than {LARGEST // 1_000_000} megabyte."
            self.problems.append((str(file), Problem(_named(file), what, "Make it shorter.")))
            return None
        # not needed where there is no such file
        from pathspec import GitIgnoreSpec

        patterns = []
        lines = data.decode("utf-8-sig", "surrogateescape").split("\n")
        for number, line in enumerate((line.removesuffix("\r") for line in lines), 1):
            stars = [len(_STARS.findall(part)) for part in line.split("/")]
            if not line.startswith("#") and (max(stars) > MOST_STARS or line.count("**") > MOST_STARS):
                what = "This pattern has too many stars."
                todo = f"Write at most {MOST_STARS} in a name."
                self.problems.append((str(file), Problem(_named(file), what, todo, number, 1, line, len(line))))
                continue
            patterns.append(line)
        try:
            return GitIgnoreSpec.from_lines(patterns)
        except ValueError as error:
            what = f"There is a pattern in this file that cannot be read: {error}."
            self.problems.append((str(file), Problem(_named(file), what, "Mend it, or take it out.")))
            return None


def _said(spec: GitIgnoreSpec, path: str) -> bool | None:
    """Whether the last pattern that fits a path itself leaves it out; None where none fits.

    The library also takes a pattern that fits a folder above the path, and so lets `!*/` in one file take back what another leaves out.
    Folders are asked one by one here, as git does.
    """
    folder = path.endswith("/")
    for pattern in reversed(spec.patterns):
        found = pattern.match_file(path) if pattern.include is not None else None
        match: re.Match[str] | None = getattr(found, "match", None)
        if match is None:
            continue
        at_end = match.end() == len(path)
        # the slash behind the name of a folder is the only group; `*/` finds any slash, and `tin/**` is not about tin itself
        fits = at_end or (folder and match.start() > 0) if match.lastgroup else not (folder and at_end)
        if fits:
            return pattern.include
    return None


def _named(file: Path) -> str:
    """The file from the current folder on, where it lies below it or near."""
    try:
        return shown(os.path.relpath(file))
    except ValueError:
        return str(file)


def _root(folder: Path) -> Path | None:
    """The top of the repository that a folder is in; None outside of one."""
    return next((place for place in (folder, *folder.parents) if os.path.lexists(place / ".git")), None)


def _info_exclude(root: Path) -> Path:
    """The file of patterns that a repository keeps to itself: one of all its working trees."""
    git = root / ".git"
    try:
        if git.is_file():
            said = git.read_text(encoding="utf-8", errors="replace").strip()
            git = root / said.removeprefix("gitdir:").strip()
            common = git / "commondir"
            if common.is_file():
                git = git / common.read_text(encoding="utf-8", errors="replace").strip()
    except (OSError, ValueError):
        pass
    return git / "info" / "exclude"
