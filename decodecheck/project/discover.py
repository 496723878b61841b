"""Which texts a command line means: files as named, folders searched for texts."""

from __future__ import annotations

import os
import stat
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from decodecheck.bounds import CONFIG, PYPROJECT, leads_out, names_table, real
from decodecheck.documents.own_pages import NAME, is_own
from decodecheck.documents.reading import suffixes
from decodecheck.documents.sheets import SUFFIXES
from decodecheck.errors import Problem, UserError, count
from decodecheck.project.leaving_out import LeavingOut
from decodecheck.source import NO_SUCH_FILE, linked_out, refuse_special, shown, suffix_of, unreadable

KNOWN = (".progression",)
"""Ends of names of files that are no texts and are read all the same, each in its place."""
_ABOUT = """readme license licence copying notice changelog changes history contributing code_of_conduct security support authors
    contributors maintainers governance install"""
ABOUT = frozenset(_ABOUT.split())
"""Names, without their ends, of Markdown files that are about a folder and no stories."""
OPEN_ELSEWHERE = "~$"
"""How the files begin that Word keeps beside a document that is open (common practice, no source)."""
MOST_NAMED = 8
NO_TEXTS = "no-texts"


@dataclass
class FoundTexts:
    """The texts that are meant, each once; what could not be looked at; and what of searched folders was not looked at.

    `inside` are the texts that a folder holds and nobody has named; `problems` hold the path as it was found. `others` counts files of folders that are no texts by their name or its end;
    `configurations` are the decodecheck.toml files of searched folders, `seen` all files in them.
    """

    texts: dict[str, None] = field(default_factory=dict)
    inside: set[str] = field(default_factory=set)
    problems: list[tuple[str, Problem]] = field(default_factory=list)
    others: Counter[str] = field(default_factory=Counter)
    configurations: list[str] = field(default_factory=list)
    seen: list[str] = field(default_factory=list)
    narrowed: bool = False
    """Whether only some of the texts are to be looked at."""
    left: Counter[tuple[str, str]] = field(default_factory=Counter)
    """How many files and folders were left out, by what, and which of the two."""
    leaving_out: LeavingOut = field(default_factory=LeavingOut)

    def is_known(self, path: str) -> None:
        """A file is known for what it is, as a baseline is, and counts no more among those that were not looked at."""
        name = Path(path).name
        if any(Path(seen).name == name and real(seen) == real(path) for seen in self.seen if seen not in self.texts):
            self.others -= Counter([_no_text(name) or ""])

    def left_out(self) -> str:
        """What was not looked at, in one sentence; "" where that is nothing."""
        return " ".join(sentence for sentence in (self._others(), self.left_on_purpose()) if sentence)

    def left_on_purpose(self) -> str:
        """What .gitignore and `exclude` leave out, in one sentence; "" for nothing."""
        parts = []
        for by in dict.fromkeys(by for by, _ in self.left):
            named = [count(self.left[by, what], what) for what in ("folder", "file") if self.left[by, what]]
            parts.append(f"{' and '.join(named)} by {by}")
        return f"Left out: {'; '.join(parts)}." if parts else ""

    def _others(self) -> str:
        number = sum(self.others.values())
        if not number:
            return ""
        ranked = sorted(self.others.items(), key=lambda pair: (not pair[0], -pair[1], pair[0]))[:MOST_NAMED]
        ends = [f"{n} {end}" if end else f"{n} without an ending" for end, n in ranked]
        more = ", ..." if len(self.others) > MOST_NAMED else ""
        return (
            f"{count(number, 'other file')} {'was' if number == 1 else 'were'} not looked at: {', '.join(ends)}{more}."
        )


def _looked_for() -> tuple[str, ...]:
    """The ends of names of files that are looked for in folders: texts, and tables that may be word lists."""
    return (*suffixes(), *SUFFIXES)


def find_texts(paths: Sequence[str], *, respect_exclude: bool = False) -> FoundTexts:
    """The texts under the given paths, folders in order of name. A file named outright is taken whatever its name, and whatever leaves it
    out in a folder, unless with `respect_exclude`.

    What is not there, cannot be looked into or holds no texts is among the problems; the rest is found all the same. What is wrong with a
    .gitignore is among those of `leaving_out`.
    """
    found = FoundTexts()
    for path in paths:
        if path == "-":
            found.texts.setdefault(path)
            continue
        problem = _named(found, path, respect_exclude)
        if problem:
            found.problems.append((path, problem))
    return found


def _named(found: FoundTexts, path: str, respect_exclude: bool) -> Problem | None:
    """Take one path of a command line; returns what is wrong with it."""
    missing = Problem(shown(path) or "''", "There is no such file or folder.", "Check the path.", code=NO_SUCH_FILE)
    if not path:
        return missing
    try:
        mode = Path(path).stat().st_mode
        if leads_out(path):
            return linked_out(path)
    except FileNotFoundError as error:
        return unreadable(path, error) if Path(path).is_symlink() else missing
    except NotADirectoryError:
        return missing
    except OSError as error:
        return unreadable(path, error)
    except ValueError:
        return missing
    if respect_exclude:
        by = found.leaving_out.by_any(real(Path(path).parent) / Path(path).name if Path(path).name else real(path))
        if by:
            found.left[by, "folder" if stat.S_ISDIR(mode) else "file"] += 1
            return None
    if not stat.S_ISDIR(mode):
        found.texts.setdefault(path)
        found.inside.discard(path)
        return None
    before, left = len(found.problems), found.left.total()
    inside = [p for p, is_text in _walk(found, path) if is_text]
    if not inside and len(found.problems) == before and not (respect_exclude and found.left.total() > left):
        if found.left.total() > left:
            todo = "Name a file outright to check it all the same."
            return Problem(shown(path), "All texts in this folder are left out, by .gitignore or `exclude`.", todo)
        ends = ", ".join(_looked_for())
        todo = f"Texts are files that end in {ends}; name a file outright to check it all the same."
        return Problem(shown(path), "This folder holds no texts.", todo, code=NO_TEXTS)
    for p in inside:
        if p not in found.texts:
            found.inside.add(p)
        found.texts.setdefault(p)
    return None


def _walk(found: FoundTexts, root: str) -> Iterator[tuple[str, bool]]:
    """The files under a folder, in order of name, and whether each is a text; hidden ones are passed over."""
    top = real(root)
    waiting = [(root, _FOLDER)]
    leaving_out = found.leaving_out
    while waiting:
        place, sort = waiting.pop()
        if sort == _FOLDER:
            try:
                inside = _entries(place)
            except OSError as error:
                wrong = unreadable(place, error)
                if isinstance(error, PermissionError):
                    wrong = Problem(wrong.path, "This folder may not be read.", "Ask for permission to read it.")
                found.problems.append((place, wrong))
                continue
            home = real(place)
            before = str(Path(place, "x"))[:-1]
            for name, sort in inside:
                if name.startswith("."):
                    continue
                by = leaving_out.by(home, name, top, folder=sort == _FOLDER)
                if by:
                    found.left[by, "folder" if sort == _FOLDER else "file"] += 1
                else:
                    waiting.append((before + name, sort))
            continue
        found.seen.append(place)
        name = os.path.basename(place)  # noqa: PTH119 (a path for each file would be slow)
        problem = None if sort == _FILE else _unfit(place, top)
        if problem:
            found.problems.append((place, problem))
        elif sort != _FILE and _is_folder(place):
            continue  # a link to a folder that is searched itself
        elif name == CONFIG or (name == PYPROJECT and _has_table(place)):
            found.configurations.append(place)
        else:
            kind = _no_text(name)
            if kind is None and is_own(place):
                kind = f"{suffix_of(place)} that {NAME} wrote"
            if kind is not None and kind not in KNOWN:
                found.others[kind] += 1
            yield place, kind is None


_FOLDER, _FILE, _ELSE = "folder", "file", "else"
"""What something in a folder is, where it is no link: its kind is known without a look at each file."""


def _entries(folder: str) -> list[tuple[str, str]]:
    """The names in a folder, the last in the alphabet first, and what each is; a link is none of the first two. Raises OSError."""

    def sort_of(entry: os.DirEntry[str]) -> str:
        try:
            if entry.is_dir(follow_symlinks=False):
                return _FOLDER
            return _FILE if entry.is_file(follow_symlinks=False) else _ELSE
        except OSError:
            return _ELSE

    with os.scandir(folder) as entries:
        return sorted(((entry.name, sort_of(entry)) for entry in entries), reverse=True)


def _no_text(name: str) -> str | None:
    """How a file of a folder is named among those that are not looked at; None for a text."""
    suffix = suffix_of(name)
    if suffix not in _looked_for():
        return suffix
    if suffix == ".md" and name[:-3].lower().replace("-", "_") in ABOUT:
        return name
    return f"{suffix} that is open in Word" if name.startswith(OPEN_ELSEWHERE) else None


def _has_table(path: str) -> bool:
    """Whether a pyproject.toml seems to hold our configuration; one that cannot be read is told with the texts below it."""
    try:
        return names_table(Path(path).read_bytes())
    except OSError:
        return False


def _is_folder(path: str) -> bool:
    try:
        return Path(path).is_dir()
    except OSError:
        return False


def _unfit(path: str, top: Path) -> Problem | None:
    """Why something in a folder cannot be looked at; None where it can, or is no text."""
    is_text = _no_text(Path(path).name) is None
    try:
        mode = Path(path).stat().st_mode
        if Path(path).is_symlink() and stat.S_ISDIR(mode):
            target = real(path)
            if target.is_relative_to(top) or top.is_relative_to(target):
                return None
            what = "This is a link to a folder elsewhere; it was not looked into."
            return Problem(shown(path), what, "Name that folder itself, too, or take the link out.")
        if not is_text:
            return None
        refuse_special(path, mode)
        return linked_out(path) if Path(path).is_symlink() and leads_out(path) else None
    except OSError as error:
        return unreadable(path, error) if is_text else None
    except UserError as error:
        return error.problems[0]
