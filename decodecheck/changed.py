"""The texts of a run that have changed since a state in git, and those that a changed progression or configuration governs."""

from __future__ import annotations

import os
from collections.abc import Iterable
from functools import partial
from pathlib import Path

from decodecheck.bounds import CONFIG, PYPROJECT, names_table, real
from decodecheck.errors import Problem, UserError, count
from decodecheck.governed import deciding
from decodecheck.project.discover import NO_TEXTS, FoundTexts
from decodecheck.project.git import NO_REPOSITORY, State
from decodecheck.run import Failure, guarded
from decodecheck.session import Session
from decodecheck.source import NO_SUCH_FILE, shown

NAMES = (CONFIG, PYPROJECT)
"""Files that a configuration stands in."""


class ChangedSince:
    """Leaves of the texts that are found those that have to be checked again. `also` are files that decide on every text, such as a
    progression that is given for all."""

    def __init__(self, session: Session, ref: str, also: Iterable[str] = ()) -> None:
        self.session = session
        self.state = State(ref)
        self.also = [path for path in also if path != "-"]
        self.sentence = ""
        """How many texts are checked, and how many not."""

    def narrow(self, found: FoundTexts, failures: list[Failure]) -> None:
        """Take out of `found` what has not changed. What is missing because it was deleted since is no failure any more; a file that git does
        not know is one."""
        failures[:] = [failure for failure in failures if not self._deleted(failure)]
        everything = [*found.texts]
        left = []
        for path in everything:
            to_be_checked = guarded(path, partial(self._wanted, path, path in found.inside))
            if isinstance(to_be_checked, Failure):
                # what is true of all of them is told once
                alike = [
                    f
                    for f in failures
                    if f.problems == to_be_checked.problems
                    or f.problem.code == to_be_checked.problem.code == NO_REPOSITORY
                ]
                failures += [] if alike else [to_be_checked]
            elif to_be_checked:
                left.append(path)
        found.texts = dict.fromkeys(left)
        found.narrowed = True
        since = (
            f"what has changed since {self.state.ref}, and what a changed order of teaching or configuration governs"
        )
        if left or not everything or not failures:
            self.sentence = f"{len(left)} of {count(len(everything), 'file')} looked at: {since}."

    def _deleted(self, failure: Failure) -> bool:
        if failure.problem.code not in (NO_SUCH_FILE, NO_TEXTS) or not failure.path or "\0" in failure.path:
            return False
        folder = real(failure.path)
        while not folder.is_dir():
            folder = folder.parent
        changes = guarded(failure.path, partial(self.state.changes, folder))
        # of a tree that is wholly new nothing can have been deleted
        return not isinstance(changes, Failure) and changes.files is not None and changes.under(failure.path)

    def _wanted(self, path: str, searched: bool) -> bool:
        """Whether a text has to be checked. Raises UserError where git does not know."""
        changes = self.state.changes(path)
        if changes.has(path):
            return True
        if not self._known(path, searched):
            return False
        return any(self._has_changed(file) for file in self.also) or self._governed_anew(path)

    def _known(self, path: str, searched: bool) -> bool:
        """Whether a text that has not changed is one of the project's. Raises UserError for one that is named and that git passes over."""
        if searched or self.state.knows(path):
            return True
        what = "git does not know this file, so it cannot be told whether it has changed."
        raise UserError(Problem(shown(path), what, f"Add it to git, or leave {self.state.option} out."))

    def _has_changed(self, path: str) -> bool:
        """Whether a file has changed; one outside of every repository counts as changed."""
        changes = guarded(path, partial(self.state.changes, path))
        return isinstance(changes, Failure) or changes.has(path)

    def _governed_anew(self, path: str) -> bool:
        """Whether something that decides on a text has changed."""
        config = guarded(path, partial(self.session.config, Path(path)))
        if isinstance(config, Failure):
            return True  # checking it will say what is wrong
        changes = self.state.changes(path)
        nearest = config.path.parent if config else changes.top
        for folder in (real(path).parent, *real(path).parent.parents):
            # a configuration that was nearer, and is none any more
            if changes.files is not None and any(changes.has(folder / n) and self._is_none(folder / n) for n in NAMES):
                return True
            if folder in (nearest, changes.top):
                break
        try:
            return any(map(self._has_changed, deciding(self.session, path)))
        except UserError:
            return True

    def _is_none(self, file: Path) -> bool:
        """Whether a file that has changed was a configuration, and is none now: it is deleted, or its table is taken out."""
        if file.name == CONFIG:
            return not os.path.lexists(file)
        before = self.state.content(str(file))
        try:
            now = names_table(file.read_bytes())
        except OSError:
            now = False
        return before is not None and names_table(before) and not now
