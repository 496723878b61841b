"""Progressions as teaching orders, and where groups stand in them: each worked out once, until a file changes."""

from __future__ import annotations

from decodecheck.errors import Problem
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load
from decodecheck.progression.step_expression import Standing, Wanted, choose_step
from decodecheck.project.looked_at import State, state_of


class Orders:
    """Keeps teaching orders and standings."""

    def __init__(self) -> None:
        self.notes: dict[str, Problem] = {}
        """Clauses of step expressions that change nothing, by the text of the note."""
        self.read: dict[str, State] = {}
        """Every file that was read, as it was then."""
        self._orders: dict[tuple[str, str | None], tuple[TeachingOrder, dict[str, State]]] = {}
        self._standings: dict[tuple[int, Wanted | None], tuple[Standing, TeachingOrder]] = {}

    def order(self, path: str, accent: str | None = None) -> TeachingOrder:
        """A progression, read as one for another accent where that is given; it is read again only when one of its files has changed.

        Raises UserError with all its mistakes.
        """
        known = self._orders.get((path, accent))
        if known and (path == "-" or all(state_of(file) == state for file, state in known[1].items())):
            return known[0]
        order = load(path, accent)
        files = [path] if path == "-" else list(order.sources)
        self._orders[path, accent] = order, {file: state_of(file) for file in files}
        self.read.update({path: None} | self._orders[path, accent][1])
        return order

    def standing_in(self, order: TeachingOrder, wanted: Wanted | None) -> Standing:
        """Where a group stands in an order; worked out once. Raises UserError."""
        key = id(order), wanted
        if key not in self._standings:
            # with the order itself, so that its number stays its own
            self._standings[key] = choose_step(order, wanted), order
            self.notes.update({note.text(): note for note in self._standings[key][0].notes})
        return self._standings[key][0]
