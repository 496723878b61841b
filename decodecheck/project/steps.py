"""From what a user writes for a step to a step of the progression."""

from __future__ import annotations

from decodecheck.errors import Problem, UserError, nearest
from decodecheck.progression.order import TeachingOrder


def choose_step(order: TeachingOrder, wanted: str | None) -> int:
    """The number of a step given by number or by title; the last step where none is given.

    Raises UserError, listing the steps, for an unknown one and for a progression without steps.
    """
    if not order.steps:
        raise UserError(Problem(order.path, "This progression has no steps.", "Write `step 1` and what it teaches."))
    if wanted is None:
        return order.last
    text = wanted.strip()
    for step in order.steps:
        if (
            text == str(step.number)
            or (text.isdigit() and int(text) == step.number)
            or (step.title and text.lower() == step.title.lower())
        ):
            return step.number
    numbers = ", ".join(str(s.number) for s in order.steps)
    titled = [s.title for s in order.steps if s.title]
    close = nearest(text, titled, most=1)
    todo = f'Did you mean "{close[0]}"? ' if close else ""
    titles = "; ".join(f'{s.number} "{s.title}"' for s in order.steps if s.title)
    raise UserError(
        Problem(
            order.path,
            f"There is no step {wanted!r} in this progression.",
            f"{todo}Its steps are: {numbers}." + (f" Titles: {titles}." if titles else ""),
        )
    )
