"""What the text of a progression teaches, and when: read here from its statements alone."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import assert_never

from decodecheck.progression import syntax
from decodecheck.progression.parse import parse
from tests.second_opinion import words
from tests.second_opinion.sounds import Ipa, Key, combinations, rows
from tests.second_opinion.words import Divided, Segment

NEVER = 65535
ENDINGS = ("-s", "-es", "-ed", "-ing", "-er", "-est", "-y", "-ly", "'s", "n't", "'ll", "'ve", "'re", "'d", "'m")


@dataclass
class Plan:
    """A progression: every step by what is taught there. `places` are "", "start" and "end"."""

    text: str
    accent: str = "southern-british"
    last: int = 0
    taught: dict[Key, dict[str, int]] = field(default_factory=lambda: defaultdict(dict))
    combined: dict[tuple[Key, ...], int] = field(default_factory=dict)
    nk: bool = False
    endings: dict[str, int] = field(default_factory=dict)
    clusters: dict[str, int] = field(default_factory=dict)
    shapes: dict[str, int] = field(default_factory=dict)
    syllables: dict[int, int] = field(default_factory=dict)
    tricky: dict[str, int] = field(default_factory=dict)
    capitals: dict[str, int] = field(default_factory=dict)
    capitals_from: int = 0
    doubled_from: int = 0
    exact: bool = False
    skip_names: bool = False
    names: set[str] = field(default_factory=set)
    sounds: set[str] = field(default_factory=set)
    pinned: dict[str, Divided] = field(default_factory=dict)

    def at(self, key: Key, starts: bool, ends: bool) -> int:
        """The step of a correspondence where it stands."""
        steps = self.taught.get(key)
        if not steps:
            return NEVER
        found = steps.get("", NEVER)
        if starts:
            found = min(found, steps.get("start", NEVER))
        return min(found, steps.get("end", NEVER)) if ends else found


def read(text: str) -> Plan:
    """The plan in the text of a progression that has no mistakes."""
    source, problems = parse(text, "second")
    assert not problems, [p.text() for p in problems]
    statements = [line.statement for line in source.lines if line.statement is not None]
    plan = Plan(text)
    for s in statements:
        if isinstance(s, syntax.Accent):
            plan.accent = str(s.name)
        elif isinstance(s, syntax.Word):
            plan.pinned[str(s.word).lower()] = _pinned(plan.accent, s)
    step = 0
    for s in statements:
        if isinstance(s, syntax.Step):
            step = int(str(s.number))
            plan.last = max(plan.last, step)
        else:
            _statement(plan, s, step)
    return plan


def _pinned(accent: str, s: syntax.Word) -> Divided:
    """A pinned reading whose graphemes are those of the inventory, each with its usual sound or the IPA given."""
    segments, at = [], 0
    for part in s.parts:
        grapheme = str(part.name)
        known = rows(accent)[grapheme]
        sound = next(r for r, _, bare in known if ("".join(r) == str(part.ipa) if part.ipa else bare == "y"))
        segments.append(Segment((grapheme, sound), tuple(range(at, at + len(grapheme)))))
        at += len(grapheme)
    return Divided(str(s.word).lower(), "", tuple(segments))


def _statement(plan: Plan, s: syntax.Statement, step: int) -> None:
    match s:
        case syntax.Teach(items):
            for item in items:
                _teach(plan, item, step)
        case syntax.Together(names):
            for name in names:
                _combination(plan, str(name), (), step)
        case syntax.Structure(shapes):
            for shape in shapes:
                if shape.syllables:
                    plan.syllables[int(str(shape.name))] = step
                else:
                    plan.shapes[str(shape.name)] = step
        case syntax.Tricky(given):
            for word in given:
                plan.tricky[words.plain(str(word))] = step
        case syntax.Capitals(number):
            plan.capitals_from = int(str(number))
        case syntax.Doubled(number):
            plan.doubled_from = int(str(number))
        case syntax.AllowNames(given):
            plan.names |= {str(n) for n in given}
        case syntax.AllowSounds(given):
            plan.sounds |= {words.plain(str(w)) for w in given}
        case syntax.SkipNames():
            plan.skip_names = True
        case syntax.Weakened():
            plan.exact = True
        case syntax.Progression() | syntax.Include() | syntax.Accent() | syntax.Step() | syntax.Word():
            pass  # no matter of a step, or read before
        case _:
            assert_never(s)


def _teach(plan: Plan, item: syntax.Item, step: int) -> None:
    name = str(item.name)
    known = rows(plan.accent).get(name)
    if len(name) == 1 and name.isupper():
        plan.capitals.setdefault(name.lower(), step)
    elif name in ENDINGS:
        plan.endings.setdefault(name, step)
    elif item.words:
        if known:
            for word in item.words:
                for sound in _as_in(plan, name, str(word)):
                    _put(plan, (name, sound), item.place, step)
        else:
            _combination(plan, name, tuple(map(str, item.words)), step)
    elif known and any(bare != "n" for _, _, bare in known):
        for sound, _, bare in known:
            if bare != "n":
                _put(plan, (name, sound), item.place, step)
    elif name in combinations(plan.accent):
        _combination(plan, name, (), step)
    else:
        plan.clusters.setdefault(name, step)


def _as_in(plan: Plan, grapheme: str, word: str) -> set[Ipa]:
    """The sounds that a grapheme has in a word, as `explain` divides it; else those of the row with this key word."""
    key_word = {sound for sound, key, _ in rows(plan.accent)[grapheme] if key == word}
    seen = {seg.key[1] for r in words.readings(plan.accent, word) for seg in r.segments if seg.key[0] == grapheme}
    return (key_word & seen) or (key_word if len(seen) > 1 else seen) or key_word


def _put(plan: Plan, key: Key, place: str, step: int) -> None:
    plan.taught[key].setdefault(place, step)


def _combination(plan: Plan, name: str, given: tuple[str, ...], step: int) -> None:
    plan.nk = plan.nk or name == "nk"
    lines = combinations(plan.accent)[name]
    for parts, key_word in lines:
        if key_word in (given or (lines[0][1],)):
            plan.combined.setdefault(parts, step)
