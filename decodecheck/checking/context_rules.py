"""The rules over neighbouring words (`rules/context/rules.tsv`), made ready to be asked about many words.

What a rule may ask of a word is a bit, what a word is a number of such bits. For each place of the sentence and each such number
the rules that are content with it are worked out once, as bits again: so the rules that hold are a few look-ups joined with &.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache, reduce
from operator import or_

from decodecheck.resources import rules_folder
from decodecheck.tables import Row, read_each, read_table

BESIDE = ("plural", "not-past-form", "not-ly")
"""Classes that mend an option (see the head of rules.tsv); their words count as noun-like all the same."""
OPTIONS = frozenset(("start", "end", "plural", "past-form", "ing", "ly", "noun-like", "name", "comma"))
"""What a rule may ask for that is no class of words."""
VOTE = re.compile(r"([A-Z]+)([+-]\d+(?:\.\d+)?)")
FAR = 0
"""The offset that stands for any word of the sentence."""
OWN = 99
"""The offset of the word itself."""
MOST_WORDS = 1 << 15
"""Of so many words is remembered what they are; a long text has about as many, and a hostile one any number."""
MOST_OUTCOMES = 1 << 13
"""Of so many sets of rules is remembered what they vote for."""


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition: the offset (FAR: anywhere in the sentence; OWN), what may stand there, and whether it is denied."""

    offset: int
    options: tuple[str, ...]
    denied: bool


@dataclass(frozen=True, slots=True)
class Rule:
    """Conditions that must all hold, and the parts of speech that the rule then votes for."""

    conditions: tuple[Condition, ...]
    votes: tuple[tuple[str, float], ...]


@cache
def classes() -> dict[str, frozenset[str]]:
    """The classes of words that rules speak of, by name."""
    return {
        row["class"]: frozenset(row["words"].split(" "))
        for row in read_table(rules_folder() / "context" / "classes.tsv")
    }


def read_rules() -> tuple[Rule, ...]:
    """The rules in the order of their file. Raises UserError for a row that cannot be read."""
    return tuple(read_each(rules_folder() / "context" / "rules.tsv", _rule))


def _rule(row: Row) -> Rule:
    """One rule. Raises ValueError for what stands for nothing: it would be passed over in silence, or stop a check midway."""
    conditions = []
    for part in row["where"].split(" "):
        place, _, options = part.lstrip("!").partition("=")
        offset = FAR if place == "far" else OWN if place == "own" else int(place)
        for option in options.split("|"):
            if option not in OPTIONS and option not in classes() and not re.fullmatch('"[^"]+"', option):
                raise ValueError(f"{option!r} is no class of words")
        conditions.append(Condition(offset, tuple(options.split("|")), part.startswith("!")))
    votes = []
    for vote in row["votes"].split(" "):
        found = VOTE.fullmatch(vote)
        if not found:
            raise ValueError(f"{vote!r} is no vote")
        votes.append((found[1], float(found[2])))
    return Rule(tuple(conditions), tuple(votes))


@cache
def ballot() -> Ballot:
    """The rules of the file, ready to be asked. Raises UserError for a row that cannot be read."""
    return Ballot(read_rules(), classes())


class Ballot:
    """Rules that vote for parts of speech: `votes` says what they make of a word and those around it."""

    def __init__(self, rules: Sequence[Rule], classes: Mapping[str, frozenset[str]]) -> None:
        named = {option for rule in rules for c in rule.conditions for option in c.options}
        self._bits = {option: 1 << n for n, option in enumerate(sorted(OPTIONS | classes.keys() | named))}
        self._start, self._end, self._name = self._bits["start"], self._bits["end"], self._bits["name"]
        self._noun_like = self._bits["noun-like"]
        kinds_of = _Kinds(classes, self._bits)
        self._kinds: Callable[[str], int] = lru_cache(MOST_WORDS)(kinds_of)
        self._rules = tuple(rules)
        offsets = {c.offset for rule in rules for c in rule.conditions}
        self._before = tuple((-n - 1, self._place(n)) for n in sorted(offsets) if n < 0)
        self._after = tuple((n - 1, self._place(n)) for n in sorted(offsets) if 0 < n < OWN)
        self._far, self._own = self._place(FAR), self._place(OWN)
        self._outcome: Callable[[int], dict[str, float]] = lru_cache(MOST_OUTCOMES)(self._sum)

    def votes(
        self, word: str, before: Sequence[str], after: Sequence[str], names: frozenset[str]
    ) -> Mapping[str, float]:
        """The votes for each part of speech, for a word between those before it, nearest first, and those after it.

        `names` are those of all these words that have a capital inside the sentence.
        """
        kinds = self._kinds
        left, right, own = list(map(kinds, before)), list(map(kinds, after)), kinds(word)
        if names:
            left, right = self._named(left, before, names), self._named(right, after, names)
            own = self._named([own], [word], names)[0]
        far = 0
        for kind in left:
            far |= kind
        for kind in right:
            far |= kind
        holding = self._own[own & self._own.asked] & self._far[far & self._far.asked]
        length = len(left)
        for n, place in self._before:
            holding &= place[(left[n] if n < length else self._start) & place.asked]
        length = len(right)
        for n, place in self._after:
            holding &= place[(right[n] if n < length else self._end) & place.asked]
        return self._outcome(holding)

    def _named(self, kinds: Sequence[int], words: Sequence[str], names: frozenset[str]) -> list[int]:
        return [k | self._name if k & self._noun_like and w in names else k for k, w in zip(kinds, words)]

    def _place(self, offset: int) -> _Place:
        # a sentence starts on the left and ends on the right
        beyond = self._end if offset <= 0 else self._start
        asked = [
            (1 << n, sum(self._bits[o] for o in set(c.options)) & ~beyond, c.denied)
            for n, rule in enumerate(self._rules)
            for c in rule.conditions
            if c.offset == offset
        ]
        return _Place(asked, (1 << len(self._rules)) - 1)

    def _sum(self, holding: int) -> dict[str, float]:
        votes: dict[str, float] = {}
        while holding:
            first = holding & -holding
            for pos, weight in self._rules[first.bit_length() - 1].votes:
                votes[pos] = votes.get(pos, 0.0) + weight
            holding ^= first
        return votes


class _Place(dict[int, int]):
    """The rules whose conditions at one place hold, as bits, by what stands there; worked out when first asked for."""

    def __init__(self, conditions: Iterable[tuple[int, int, bool]], every: int) -> None:
        super().__init__()
        self._conditions = tuple(conditions)
        self._every = every
        self.asked = reduce(or_, (options for _, options, _ in self._conditions), 0)
        """All that is asked for here: whatever else a word may be, there are few keys."""

    def __missing__(self, kinds: int) -> int:
        holding = self._every
        for rule, options, denied in self._conditions:
            if bool(kinds & options) == denied:
                holding &= ~rule
        self[kinds] = holding
        return holding


class _Kinds:
    """What a word is, of all that rules ask for, as bits; but not whether it is a name, which depends on its sentence."""

    def __init__(self, classes: Mapping[str, frozenset[str]], bits: Mapping[str, int]) -> None:
        self._known = frozenset(word for name, words in classes.items() if name not in BESIDE for word in words)
        self._plural, self._noun_like, self._possessive = bits["plural"], bits["noun-like"], bits.get("possessive", 0)
        self._ending_in_ed = bits["past-form"] | bits.get("past", 0)
        self._ly, self._ing = bits["ly"], bits["ing"]
        self._no_past, self._no_ly = classes["not-past-form"], classes["not-ly"]
        self._listed = {",": bits["comma"] | bits["end"]}
        for option, bit in bits.items():
            for word in (option[1:-1],) if option.startswith('"') else classes.get(option, ()):
                self._listed[word] = self._listed.get(word, 0) | bit

    def __call__(self, word: str) -> int:
        kinds = self._listed.get(word, 0)
        known = word in self._known
        if not known and word != ",":
            kinds |= self._possessive if word.endswith("'s") else self._noun_like
        if word.endswith("s"):
            if not known and len(word) > 3 and not word.endswith(("ss", "us", "is", "'s")):
                kinds |= self._plural
        elif word.endswith("ed"):
            if len(word) > 3 and word not in self._no_past:
                kinds |= self._ending_in_ed
        elif word.endswith("ly"):
            if len(word) > 4 and word not in self._no_ly:
                kinds |= self._ly
        elif word.endswith("ing") and len(word) > 4:
            kinds |= self._ing
        return kinds
