"""Which files decide on a text: its configuration, its progression, and all that this includes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from pathlib import Path

from decodecheck.bounds import real
from decodecheck.errors import Problem, UserError
from decodecheck.project.discover import NO_TEXTS, FoundTexts
from decodecheck.project.fitting import progression_of
from decodecheck.run import Failure, guarded
from decodecheck.session import Session
from decodecheck.source import NO_SUCH_FILE, shown


def deciding(session: Session, path: str) -> Iterator[str]:
    """The files that decide on a text, one after another. Raises UserError where one of them is wrong; those before have been given then."""
    config = session.config(Path(path))
    if config:
        yield str(config.path)
    named = session.progression or (progression_of(config) if config else None)
    if named is not None and named != "-":
        yield from session.order(named).sources


class GovernedBy:
    """Leaves of the texts that are found those on which one of some files decides."""

    def __init__(self, session: Session, files: Iterable[str]) -> None:
        """Raises UserError for a file that is not there."""
        self.session = session
        self.files = {}
        for file in files:
            if "\0" in file or not Path(file).is_file():
                raise UserError(
                    Problem(shown(file) or "''", "There is no such file.", "Check the path.", code=NO_SUCH_FILE)
                )
            self.files[real(file)] = file

    def narrow(self, found: FoundTexts, failures: list[Failure]) -> None:
        """Take out of `found`, and of the failures, what other files decide on. That there is no text at all is no failure."""
        failures[:] = [f for f in failures if f.problem.code != NO_TEXTS and self._mine(f.path)]
        found.texts = dict.fromkeys([path for path in found.texts if self._mine(path)])
        found.configurations = [path for path in found.configurations if real(path) in self.files]
        found.narrowed = True

    def _mine(self, path: str) -> bool:
        mine = guarded(path, partial(self._decided, path))
        return mine is True

    def _decided(self, path: str) -> bool:
        try:
            return any(real(file) in self.files for file in deciding(self.session, path))
        except UserError as error:
            # what is wrong in one of the files, or in one that it includes, is told by the check of the text
            named = {real(problem.path) for problem in error.problems if problem.path and "\0" not in problem.path}
            return not named.isdisjoint(self.files) or self._names_one(path)

    def _names_one(self, path: str) -> bool:
        """Whether the configuration of a text, which can be read, names one of the files."""
        config = guarded(path, partial(self.session.config, Path(path)))
        if isinstance(config, Failure) or config is None or config.progression is None:
            return False
        return real(config.path) in self.files or real(config.progression) in self.files
