"""What there is to choose from: orders of teaching, their steps; and where the readers stand."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace

from decodecheck.errors import UserError
from decodecheck.progression.order import TeachingOrder
from decodecheck.web.asked import OWN, Asked
from decodecheck.web.teaching import Teaching
from decodecheck.web.told import Told, told


@dataclass(frozen=True, slots=True)
class Controls:
    """The choices, the one that is made, its steps as (number, title), the place of the chosen one from 1; what is wrong with an order."""

    choices: tuple[tuple[str, str], ...]
    chosen: str
    name: str
    steps: tuple[tuple[int, str], ...]
    at: int
    problems: tuple[Told, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def as_json(self) -> str:
        """The steps for the script of the page."""
        return json.dumps(self.steps)

    @property
    def said(self) -> str:
        """The chosen step, in words."""
        if not self.steps:
            return "no step"
        number, title = self.steps[self.at - 1]
        return f"step {number} of {self.steps[-1][0]}" + (f": {title}" if title else "")


def controls(teaching: Teaching, asked: Asked) -> Controls:
    """The choices for a request. Raises UserError for an order or a step that is none; what is wrong in an order of the school's own is among
    the problems."""
    chosen = asked.order or teaching.usual()
    choices = (*teaching.choices().items(), (OWN, "Your own order"))
    if chosen == OWN:
        try:
            order = teaching.order(replace(asked, added=""))
        except UserError as error:
            return Controls(choices, OWN, "", (), 1, tuple(map(told, error.problems)))
    else:
        order = teaching.order(replace(asked, added=""))
    steps = _steps(order)
    if asked.at > len(steps) and not asked.step:
        asked = replace(asked, at=0)
    standing = teaching.standing(replace(asked, added="", group=""))
    at = next((place for place, (number, _) in enumerate(steps, 1) if number == standing.step), len(steps))
    return Controls(choices, chosen, order.name, steps, at)


def _steps(order: TeachingOrder) -> tuple[tuple[int, str], ...]:
    return tuple((step.number, step.title) for step in order.steps)
