"""Which tables of configurations are about something that is there: settled senses and allowed words."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from pathlib import Path

from decodecheck.documents.document import Document
from decodecheck.errors import Problem
from decodecheck.project.config import Config
from decodecheck.project.fitting import WILD, holds, idle_patterns, senseless, wordless
from decodecheck.project.treating import Allowed, allowed_by, idle_allow
from decodecheck.project.word_rules import Settled


class Idle:
    """Notes, text by text, which tables have found what they are about, and tells those that have not."""

    def __init__(self) -> None:
        self._settled: dict[tuple[Path, Settled], bool] = {}
        self._allowed: dict[Path, set[Allowed]] = {}

    def settled(self, config: Config, document: Document) -> None:
        """Note which [[settled]] tables have their word in a text."""
        name = config.named(Path(document.path)) if config.settled else ""
        for settled in config.settled:
            if config.fit(settled, [name]):
                found = self._settled.get((config.path, settled), False)
                self._settled[config.path, settled] = found or holds(document, settled)

    def allowed(self, config: Config | None, path: str, used: Collection[int]) -> None:
        """Note which words of [[allow]] tables have been allowed in a file: those come before what the text itself allows."""
        if config and config.allow and path != "-":
            allowed = allowed_by(config, Path(path))
            self._allowed.setdefault(config.path, set()).update(allowed[n] for n in used if n < len(allowed))

    def of_folder(self, config: Config, seen: Iterable[str], *, words: bool) -> Iterator[Problem]:
        """What means nothing in a configuration all files of whose folder were seen; with `words`, allowed words, too."""
        files = [*seen]
        yield from idle_patterns(config, files)
        yield from idle_allow(config, files, self._allowed.get(config.path, set()), words=words)

    def of_words(
        self,
        configs: Mapping[Path, Config],
        searched: Collection[Path],
        senses: Callable[[str], list[str]],
        *,
        narrowed: bool = False,
    ) -> Iterator[tuple[Config, Problem]]:
        """The [[settled]] tables without their word, and those whose sense is none; `searched` are configurations all of whose files were seen,
        though not looked at where the texts are `narrowed`: of some alone it cannot be told that none has a word."""
        for (where, settled), holding in self._settled.items():
            config = configs[where]
            problem: Problem | None = senseless(config, settled, senses)
            whole = where in searched and not narrowed
            if problem is None and not holding and (whole or not WILD.search(settled.pattern)):
                problem = wordless(config, settled)
            if problem:
                yield config, problem
