"""What governs a text: its configuration, its progression, the step at which its readers stand."""

from __future__ import annotations

import os
from pathlib import Path

from decodecheck.bounds import real
from decodecheck.documents.notes import OwnStep
from decodecheck.errors import Problem, UserError
from decodecheck.orders import Orders
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.step_expression import Standing, Wanted
from decodecheck.project.config import Config, find_config
from decodecheck.project.fitting import group_of, progression_of, step_for


class Governing:
    """Says what governs each text; progressions are kept until one of their files changes.

    `progression`, `step` and `group` hold for all texts where they are given. `folder` is where the configuration of standard input, and of texts that are
    given as strings, is looked for. Raises UserError where a step and a group are given.
    """

    def __init__(self, progression: str | None, step: str | None, group: str | None, folder: str | Path) -> None:
        if step is not None and group is not None:
            raise UserError(Problem("--group", "A group has a step of its own.", "Leave --step or --group out."))
        self.progression = progression
        self.step = step
        self.group = group
        self.folder = Path(folder)
        self._orders = Orders()
        self.notes = self._orders.notes
        """Clauses of step expressions that change nothing, by the text of the note."""
        self._read = self._orders.read
        self._configs: dict[Path, Config] = {}
        self._nearest: dict[str, Config | None] | None = None
        """During a run, the configuration of each folder."""

    def begin_run(self) -> None:
        """From now on the configuration of a folder is looked for once."""
        self._nearest = {}

    def end_run(self) -> None:
        """Configurations are looked for anew."""
        self._nearest = None

    def order(self, path: str, accent: str | None = None) -> TeachingOrder:
        """A progression, read as one for another accent where that is given; it is read again only when one of its files has changed.

        Raises UserError with all its mistakes.
        """
        return self._orders.order(path, accent)

    def config(self, start: str | Path) -> Config | None:
        """The nearest configuration from a file or folder upwards; None where there is none. Raises UserError where it is wrong."""
        folder = os.path.dirname(start)  # noqa: PTH120 (a path for each file would be slow)
        if self._nearest is not None and folder in self._nearest:
            return self._nearest[folder]
        config = find_config(Path(start))
        if config:
            self._configs[config.path] = config
        if self._nearest is not None and not Path(start).is_dir():
            self._nearest[folder] = config
        return config

    def settings(self, path: str, own: OwnStep | None = None) -> tuple[Standing, Config | None]:
        """Where the readers of a text stand: as given, else by the text itself (`own`), else by the nearest configuration; and that
        configuration.

        Raises UserError where no progression is known.
        """
        where, config = self.progression_for(path)
        wanted = self.wanted(path, config, own)
        accent = config.accent if config else None
        if wanted and config and self.progression and self.step is None and self.group is None:
            # another progression is tried out on texts that declare their step for their own
            try:
                return self.standing(where, wanted, accent), config
            except UserError as error:
                order = self.order(where, accent)
                note = (
                    wanted.problem(error.problems[0].what, "So this text is checked at the last step.", note=True)
                    if order.steps
                    else error.problems[0]
                )
                self.notes.setdefault(note.text(), note)
                return self.standing(where, None, accent), config
        return self.standing(where, wanted, accent), config

    def progression_for(self, path: str) -> tuple[str, Config | None]:
        """The progression of a text and its configuration. Raises UserError where none is known."""
        config = self.config(self.folder if path == "-" else path)
        where = self.progression or (progression_of(config) if config else None)
        if where is None:
            raise UserError(
                Problem(
                    "standard input" if path == "-" else path,
                    "No progression is given for this text.",
                    'Name one with --progression FILE, or in a decodecheck.toml: progression = "school.progression"',
                )
            )
        return where, config

    def wanted(self, path: str, config: Config | None, own: OwnStep | None = None) -> Wanted | None:
        """The step expression that holds for a text; None for the last step. Raises UserError for a group that is not there."""
        if self.step is not None:
            return Wanted(self.step)
        if self.group is not None:
            if config is None:
                todo = "Put a decodecheck.toml with a table [groups] beside the texts, or use --step."
                raise UserError(Problem("--group", "There is no decodecheck.toml to look the group up in.", todo))
            return config.group(self.group)
        if own is not None:
            return group_of(config, own.wanted) if own.group else own.wanted
        if config is None:
            return None
        return step_for(config, Path(path))

    def for_progression(self, path: str) -> Standing:
        """Where a group stands in a progression file named outright; its groups are looked up beside it.

        Raises UserError.
        """
        config = self.config(Path(path)) if self.group is not None else None
        return self.standing(path, self.wanted(path, config))

    def standing(self, progression: str, wanted: Wanted | None, accent: str | None = None) -> Standing:
        """Where a group stands in a progression; worked out once. Raises UserError."""
        return self.standing_in(self.order(progression, accent), wanted)

    def standing_in(self, order: TeachingOrder, wanted: Wanted | None) -> Standing:
        """Where a group stands in an order; worked out once. Raises UserError."""
        return self._orders.standing_in(order, wanted)

    def tries_out(self, config: Config | None, own: OwnStep | None) -> bool:
        """Whether a text is checked at another step, or by another progression, than the one declared for it."""
        declared = own is not None or (config is not None and bool(config.step or config.rules or config.lists))
        if declared and (self.step is not None or self.group is not None):
            return True
        named = config.progression if config else None
        return self.progression is not None and named is not None and real(self.progression) != real(named)
