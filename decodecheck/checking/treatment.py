"""What a project makes of the findings on a text: how grave each kind is, which words are allowed, what passes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from decodecheck.checking.kinds import OFF
from decodecheck.documents.allowance import Allowance, words_meant


@dataclass(frozen=True, slots=True)
class Treatment:
    """How the findings on a text are treated.

    `severities` are those of kinds that have not their usual one; with `strict` warnings fail; so many words may be blocked
    (`allow_blocked`); `allowances` are words that are not told. `idle_told` says whether an allowance of the text that allows nothing is a
    finding: not where another step is tried out than the text's own.
    """

    severities: Mapping[str, str] = field(default_factory=dict)
    strict: bool = False
    allow_blocked: int = 0
    allowances: tuple[Allowance, ...] = ()
    idle_told: bool = True

    def severity(self, kind: str, usual: str) -> str:
        """What findings of a kind count as."""
        return self.severities.get(kind, usual)

    def off(self, kind: str) -> bool:
        """Whether findings of a kind are not told."""
        return self.severities.get(kind) == OFF

    @property
    def silences(self) -> bool:
        """Whether anything may not be told."""
        return bool(self.allowances) or OFF in self.severities.values()


PLAIN = Treatment()


class Silence:
    """What of one text is not told, and which allowances it is that have something to allow.

    Findings are asked about in the order of the text. So each allowance is looked at once, however many there are.
    """

    def __init__(self, treatment: Treatment) -> None:
        self.treatment = treatment
        self.used: set[int] = set()
        """Numbers of allowances."""
        self._any_off = OFF in treatment.severities.values()
        self._waiting: dict[tuple[str, str], list[int]] = {}
        """Numbers of allowances by word and kind, the next one last."""
        self._reach: dict[tuple[str, str], int] = {}
        """Up to where the allowances of a word and kind hold that have begun."""
        allowances = treatment.allowances
        for number in sorted(range(len(allowances)), key=lambda n: -allowances[n].start):
            word, *_ = words_meant(allowances[number].word)
            self._waiting.setdefault((word, allowances[number].kind), []).append(number)
        self._words = {word for word, _ in self._waiting}

    def concerns(self, form: str) -> bool:
        """Whether findings on a form may have to be silenced."""
        return self._any_off or any(word in self._words for word in words_meant(form))

    def covers(self, form: str, kind: str, offset: int) -> bool:
        """Whether a finding on a form at an offset is not told; what allows it is noted."""
        keys = [(word, own) for word in words_meant(form) if word in self._words for own in ("", kind)]
        # each of them is asked, so that each is noted
        return True in {self._holds(key, offset) for key in keys} or self.treatment.off(kind)

    def _holds(self, key: tuple[str, str], offset: int) -> bool:
        allowances, waiting = self.treatment.allowances, self._waiting.get(key, [])
        reach = self._reach.get(key, 0)
        while waiting and allowances[waiting[-1]].start <= offset:
            number = waiting.pop()
            if allowances[number].end > offset:
                self.used.add(number)
                reach = max(reach, allowances[number].end)
        self._reach[key] = reach
        return reach > offset
