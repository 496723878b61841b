"""What a project makes of the findings on a text: how grave each kind is, which words are allowed, what passes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from decodecheck.checking.kinds import OFF, Kind
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
    """What of one text is not told, and which allowances it is that have something to allow."""

    def __init__(self, treatment: Treatment) -> None:
        self.treatment = treatment
        self.used: set[int] = set()
        """Numbers of allowances."""
        self.words: Counter[str] = Counter()
        """How often each word is allowed, by its plain spelling."""
        self._by_word: dict[str, list[int]] = {}
        for number, allowance in enumerate(treatment.allowances):
            for word in words_meant(allowance.word)[:1]:
                self._by_word.setdefault(word, []).append(number)

    def concerns(self, form: str) -> bool:
        """Whether findings on a form may have to be silenced."""
        return any(word in self._by_word for word in words_meant(form)) or any(
            severity == OFF for severity in self.treatment.severities.values()
        )

    def covers(self, form: str, kind: Kind | str, offset: int) -> bool:
        """Whether a finding on a form at an offset is not told; what allows it is noted."""
        name = kind if isinstance(kind, str) else kind.name
        allowances = self.treatment.allowances
        numbers = [n for word in words_meant(form) for n in self._by_word.get(word, ())]
        holding = [n for n in numbers if allowances[n].holds(name, offset)]
        self.used.update(holding)
        return bool(holding) or self.treatment.off(name)
