"""The table that ends a report on several texts: those that fail first, those that are fine in one line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from decodecheck.errors import count, cut_path
from decodecheck.printing import columns, safe
from decodecheck.reports.view import View

MOST_NAMED = 6
MOST_IN_THE_WAY = 4
"""So many of the words that cannot be read yet are named."""


@dataclass(frozen=True, slots=True)
class Row:
    """What is told of one text in a table: its step, how many words cannot be read yet, are to be checked by eye, are there; from
    which step on all can be read (None: from none), the groups that can read it; the first few words that cannot be read yet, if they are
    told here, and how many different ones there are; and how many findings are not about one word."""

    path: str
    step: int
    blocked: int
    unsure: int
    words: int
    ready: int | None
    readers: tuple[str, ...] = ()
    words_in_the_way: tuple[str, ...] = ()
    in_the_way: int = 0
    others: int = 0

    @property
    def fine(self) -> bool:
        """Whether there is nothing to tell."""
        return not self.blocked and not self.unsure and not self.others


def table(rows: Sequence[Row], failed: int, view: View) -> Iterator[str]:
    """The lines of the table; `failed` texts could not be checked."""
    if not rows:
        yield f"{count(failed, 'text')} could not be checked."
        return
    told = sorted((row for row in rows if not row.fine), key=lambda row: not row.blocked)
    fine = [row for row in rows if row.fine]
    if told:
        names = [cut_path(safe(row.path)) for row in told]
        width = min(60, max(map(columns, names)))
        yield f"{'text':<{width}}  step  not yet decodable  by eye  can be read from"
        for name, row in zip(names, told):
            ready = f"step {row.ready}" if row.ready is not None else "no step"
            groups = f"; by {', '.join(row.readers)}" if row.readers else ""
            shown = ", ".join(row.words_in_the_way)
            others = row.in_the_way - len(row.words_in_the_way)
            ready += f"; {row.others} more to see to" if row.others else ""
            in_the_way = f"  {shown}{f' and {others} more' if others > 0 else ''}" if shown else ""
            name += " " * (width - columns(name))
            yield f"{name}  {row.step:>4}  {row.blocked:>17}  {row.unsure:>6}  {ready + groups:<16}{in_the_way}".rstrip()
    if fine and not view.quiet:
        named = ", ".join(cut_path(safe(row.path)) for row in fine[:MOST_NAMED])
        more = f" and {len(fine) - MOST_NAMED} more" if len(fine) > MOST_NAMED else ""
        yield f"Fine: {named}{more}"
    blocked = sum(bool(row.blocked) for row in rows)
    others = sum(bool(row.others and not row.blocked and not row.unsure) for row in rows)
    if told or failed or not view.quiet:
        yield (
            f"{count(len(rows), 'text')}: {len(fine)} fine, {blocked} with words that cannot be read yet, "
            f"{len(told) - blocked - others} with words to check by eye"
            + (f", {others} with something else to see to" if others else "")
            + (f"; {failed} could not be checked." if failed else ".")
        )
