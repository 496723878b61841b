"""A run held against a baseline: what the baseline holds is not told, and what it holds in vain is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import partial

from decodecheck.errors import count, cut
from decodecheck.project.baseline import Baseline, Key, counted
from decodecheck.run import Failure, Report, Run, guarded
from decodecheck.source import shown

MOST_NAMED = 4


class Held:
    """What a run finds of a baseline. `of` gives the same run without what the baseline holds; all else is known once it has been read to
    its end."""

    def __init__(self, baseline: Baseline) -> None:
        self.baseline = baseline
        self.found: dict[Key, int] = {}
        """Every finding of the run, whether or not the baseline holds it."""
        self.checked: set[str] = set()
        """The files that were checked, as the baseline names them."""
        self.accepted = 0
        """How many findings of the run the baseline holds."""

    def of(self, run: Run) -> Run:
        """The run; a report of which the baseline knows nothing stays as it is."""
        run.results = self._each(run, run.results)
        return run

    def _each(self, run: Run, results: Iterable[Report]) -> Iterator[Report]:
        for report in results:
            held = guarded(report.path, partial(self._one, report))
            if isinstance(held, Failure):
                run.failures.append(held)
            else:
                yield held
        run.aside += self.sentences()

    def _one(self, report: Report) -> Report:
        if report.path == shown("-"):
            return report
        file = self.baseline.named(report.path)
        held = self.baseline.accept(report)
        # a file that has two names is held to the baseline under each
        for key, number in counted(file, report.findings).items():
            self.found[key] = max(number, self.found.get(key, 0))
        self.checked.add(file)
        self.accepted += len(held.accepted)
        return held

    def idle(self) -> Counter[Key]:
        """What the baseline counts too much: of files that were checked, and of those that are not there any more."""
        idle: Counter[Key] = Counter()
        gone = {file for file in {key.file for key in self.baseline.counts} if not self.baseline.there(file)}
        for key, number in self.baseline.counts.items():
            if key.file in self.checked or key.file in gone:
                idle[key] = max(0, number - self.found.get(key, 0))
        return +idle

    def pruned(self) -> Baseline:
        """The baseline without what it counts too much."""
        left = Counter(self.baseline.counts)
        left.subtract(self.idle())
        return Baseline(self.baseline.path, +left)

    def anew(self) -> Baseline:
        """A baseline of everything that the run has found."""
        return Baseline(self.baseline.path, dict(self.found))

    def sentences(self) -> list[str]:
        """How many findings the baseline holds, and which of its entries are to be pruned."""
        said = []
        if self.accepted:
            said.append(f"{count(self.accepted, 'finding')} {'is' if self.accepted == 1 else 'are'} in the baseline.")
        idle = self.idle()
        if idle:
            number = sum(idle.values())
            named = [f"{cut(key.word)} ({key.file})" for key in sorted(idle)[:MOST_NAMED]]
            more = ", ..." if len(idle) > MOST_NAMED else ""
            said.append(
                f"{count(number, 'finding')} of the baseline {'is' if number == 1 else 'are'} not there any more: "
                f"{', '.join(named)}{more}. `decodecheck baseline prune` takes {'it' if number == 1 else 'them'} out."
            )
        return said
