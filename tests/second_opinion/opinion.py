"""The second opinion: when a word can first be read, by the rules of rules/SWITCHES.md and nothing else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice, product

from tests.second_opinion import words
from tests.second_opinion.apart import OWN_VOWEL, Parts, apart, bases
from tests.second_opinion.plan import NEVER, Plan
from tests.second_opinion.sounds import Key, ipa, key, short
from tests.second_opinion.sounds import also as also_accepted
from tests.second_opinion.words import SCHWA, Divided, Segment, readings

Pair = tuple[int, int]
"""From which step a word can be sounded out, and from which it can be read with the help of a tricky word."""
SILENT_E = {"ce": "c", "se": "s", "ze": "z", "ge": "g"}
WEAK_L = ("al", "el", "il", "ol", "ul", "yl")
MOST = 64
"""Combinations of ways to take the readings of a word apart that are looked at."""
NOTHING: Pair = (NEVER, NEVER)


def best(pairs: Sequence[Pair]) -> Pair:
    """Of several ways the earliest."""
    return (min(p[0] for p in pairs), min(p[1] for p in pairs)) if pairs else NOTHING


@dataclass
class Opinion:
    """Works out steps under one plan."""

    plan: Plan
    known: dict[tuple[Divided, ...], list[Pair]] = field(default_factory=dict)

    # -- correspondences --------------------------------------------------------------------------------------------

    def segment(self, segments: Sequence[Segment], i: int, starts: bool, ends: bool, long: bool) -> int:
        """The step of one grapheme in its place; `long`: the word has two or more syllables."""
        plan, accent, seg = self.plan, self.plan.accent, segments[i]
        grapheme, said = seg.key
        own = plan.at(seg.key, starts, ends)

        def like(k: Key) -> int:
            return plan.at(k, starts, ends)

        if len(grapheme) == 2 and grapheme[0] == grapheme[1] and grapheme[0] not in "aeiou":
            if seg.key in plan.taught:
                return own
            return max(like((grapheme[0], said)), plan.doubled_from)
        if grapheme in SILENT_E and seg.key not in plan.taught:
            return min(own, like((SILENT_E[grapheme], said)))
        found = [own]
        if ends and grapheme in ("ed", "es") and "-" + grapheme in plan.endings:
            return plan.endings["-" + grapheme]
        if ends and grapheme == "ed":
            return self._ed((seg,))
        if (
            i
            and not seg.exchanged
            and "-" in segments[i - 1].key[0]
            and seg.letters[-1] + 1 == segments[i - 1].letters[-1]
        ):
            found.append(like((grapheme + "e", said)))
        if grapheme == "n" and said == ("ŋ",):
            before_k = i + 1 < len(segments) and segments[i + 1].key[0].startswith("k")
            if not before_k or not (plan.nk or seg.key in plan.taught):
                found.append(like(key("n|n", accent)))
        last = not any(s.vowel for s in segments[i + 1 :])
        happy = said == ipa("y", "HAPPY", accent)
        if long and not plan.exact and seg.weak and not (happy and last):
            found.append(like((grapheme, short(grapheme, accent))))
        if happy and grapheme != "y" and last:
            found.append(like((grapheme, ipa("ee", "FLEECE", accent))))
        return min(found)

    # -- divisions --------------------------------------------------------------------------------------------------

    def divisions(self, segments: tuple[Segment, ...], start: int = 0) -> Iterator[tuple[Segment, ...]]:
        """A division and all others that are accepted beside it; a stretch is exchanged once."""
        yield segments
        for i in range(start, len(segments)):
            for one, other in also_accepted(self.plan.accent):
                if tuple(s.key for s in segments[i : i + len(one)]) == one:
                    new = self._laid_out(segments[i : i + len(one)], other)
                    yield from self.divisions((*segments[:i], *new, *segments[i + len(one) :]), i + len(new))

    def _laid_out(self, old: Sequence[Segment], other: tuple[Key, ...]) -> tuple[Segment, ...]:
        """Other graphemes over the same letters, in order; a split digraph takes the final e with it."""
        weakened = old[0].key[0] in WEAK_L and old[0].key not in self.plan.taught
        free = sorted(x for s in old for x in s.letters)
        out = []
        for k in other:
            grapheme = k[0]
            taken = (free[0], free[-1]) if "-" in grapheme else tuple(free[: len(grapheme)])
            free = [x for x in free if x not in taken]
            # the a of metal is weakened unless al is named
            weak = len(grapheme) == 1 and k[1] == SCHWA and weakened
            out.append(Segment(k, taken, weak, exchanged=True))
        return tuple(out)

    def spelled(self, segments: tuple[Segment, ...], long: bool, edges: tuple[bool, bool] = (True, True)) -> int:
        """The step of letters by the best accepted division, combinations included."""
        found = NEVER
        for these in self.divisions(segments):
            last = len(these) - 1
            steps = [
                self.segment(these, i, edges[0] and i == 0, edges[1] and i == last, long) for i in range(len(these))
            ]
            reach = [0] + [NEVER] * len(these)
            for i in range(len(these)):
                reach[i + 1] = min(reach[i + 1], max(reach[i], steps[i]))
                for parts, step in self.plan.combined.items():
                    if tuple(s.key for s in these[i : i + len(parts)]) == parts:
                        reach[i + len(parts)] = min(reach[i + len(parts)], max(reach[i], step))
            found = min(found, reach[-1])
        return found

    # -- words ------------------------------------------------------------------------------------------------------

    def options(self, group: tuple[Divided, ...]) -> list[Pair]:
        """The steps of one word in one sense: one pair for every way to take it apart, else one for its letters."""
        if group not in self.known:
            self.known[group] = self._options(group)
        return self.known[group]

    def _options(self, group: tuple[Divided, ...]) -> list[Pair]:
        tricky = self.plan.tricky.get(group[0].word, NEVER)
        ways = [[*self._ways(r)] for r in group]
        chosen = [best(pairs) for pairs in dict.fromkeys(islice(product(*ways), MOST))]
        return [(dec, min(known, tricky)) for dec, known in dict.fromkeys(chosen)]

    def _ways(self, whole: Divided) -> Iterator[Pair]:
        """The steps of one reading by each way to take it apart; by its letters where there is none, or none beyond doubt."""
        found = apart(self.plan.accent, whole)
        for parts in found:
            yield from self._parts(whole, parts)
        if not found or any(p.loose for p in found):
            yield self._whole(whole)

    def _whole(self, r: Divided) -> Pair:
        step = self.spelled(r.segments, _syllables(r.segments) > 1)
        if r.word in OWN_VOWEL and "n't" in self.plan.endings:
            head = tuple(s for s in r.segments if s.letters[0] < len(r.word) - 3)
            step = max(self.spelled(head, False), self.plan.endings["n't"])
        return max(step, self.held(r.segments)), NEVER

    def held(self, segments: tuple[Segment, ...]) -> int:
        """The step up to which structures and adjacent consonants hold a word back."""
        pattern = "".join("V" if s.vowel else "C" for s in segments if s.key[1])
        shapes = self.plan.shapes
        # a structure that is named waits for itself alone
        shapes = {pattern: shapes[pattern]} if pattern in shapes else shapes
        steps = [step for shape, step in shapes.items() if holds(pattern, shape)]
        runs: list[list[str]] = [[]]
        for s in segments:
            if s.vowel:
                runs.append([])
            elif s.key[1]:
                runs[-1].append(s.key[0])
        for run in runs:
            named = {name: step for name, step in self.plan.clusters.items() if name == "".join(run) and len(run) > 1}
            # one that is named waits for itself alone
            for name, step in (named or self.plan.clusters).items():
                if any(_stands(name, run[i:]) for i in range(len(run))):
                    steps.append(step)
        return max([*steps, self.long(segments)])

    def long(self, segments: tuple[Segment, ...]) -> int:
        """The step up to which the number of syllables holds a word back."""
        named = [n for n in self.plan.syllables if n <= _syllables(segments)]
        return self.plan.syllables[max(named)] if named else 0

    def _parts(self, whole: Divided, parts: Parts) -> list[Pair]:
        rest = 0 if "-" in whole.word else self.long(whole.segments)
        if parts.ending:
            rest = max(rest, self.ending(parts.ending, whole))
        if parts.affix:
            inside = tuple(s for s in whole.segments if parts.affix[0] <= s.letters[0] < parts.affix[1])
            rest = max(rest, self.spelled(inside, True), self.held(inside))
        looks = self._looks_like(whole, parts)
        found = []
        for pairs in product(*map(self.options, parts.bases)):
            sounded = looks or max(rest, *(p[0] for p in pairs))
            if parts.ending:  # a tricky word carries its endings, however long they make it
                found.append((sounded, max(pairs[0][1], self.ending(parts.ending, whole))))
            else:
                found.append((sounded, max(rest, *(min(p) for p in pairs))))
        return found

    def _looks_like(self, whole: Divided, parts: Parts) -> int | None:
        """*tried* by the ie of *pie*, *goes* by the oe of *toe*, where a progression mentions them."""
        for written in ("ie|PRICE", "oe|GOAT"):
            k = key(written, self.plan.accent)
            at = next((i for i, s in enumerate(whole.segments) if s.key == k), None)
            if at is not None and parts.ending in ("-es", "-ed") and k in self.plan.taught:
                if parts.bases[0][0].word.endswith("e"):
                    continue
                base = self.spelled(whole.segments[: at + 1], _syllables(whole.segments) > 1)
                return max(
                    base,
                    self.ending(parts.ending, whole),
                    self.held(whole.segments[: at + 1]),
                    self.long(whole.segments),
                )
        return None

    def ending(self, ending: str, whole: Divided) -> int:
        """The step of an ending: as it is taught, else by its letters."""
        plan, accent = self.plan, self.plan.accent
        if ending in plan.endings:
            return plan.endings[ending]
        size = len(whole.word) - len(ending.strip("-"))
        tail = tuple(s for s in whole.segments if s.letters[0] >= size)
        voiced = bool(tail) and tail[-1].key[1][-1:] == ("z",)
        s_step = min(plan.at(key(k, accent), False, True) for k in (("s|s", "s|z") if voiced else ("s|s",)))
        if ending == "'s" and len(tail[0].key[1]) > 1:
            return plan.at(tail[0].key, False, True)
        if ending in ("-s", "'s"):
            return s_step
        if ending == "-es":
            if any(s.key[0] == "s" for s in tail):
                return s_step
            own = min([plan.at(s.key, False, True) for s in tail if s.key[0] == "es"], default=NEVER)
            return min(own, max(self._e(), s_step))
        if ending == "-ed":
            return self._ed(tail)
        if ending == "'re":
            return plan.at(key("r|r", accent), False, True)
        if ending == "'ve":
            return min(plan.at(key(k, accent), False, True) for k in ("ve|v", "v|v"))
        weak = ipa("a", "SCHWA", accent)[0]
        tail = tuple(
            replace(t, key=(t.key[0], t.key[1][1:]))
            if len(t.key[1]) > 1 and t.key[1][0] == weak and "'" in ending
            else t
            for t in tail
        )
        return self.spelled(tail, True, (False, True)) if tail else NEVER

    def _ed(self, tail: tuple[Segment, ...]) -> int:
        own = min([self.plan.at(s.key, False, True) for s in tail if s.key[0] in ("ed", "d")], default=NEVER)
        if tail and len(tail[0].key[1]) == 2:
            own = min(own, max(self._e(), self.plan.at(key("d|d", self.plan.accent), False, True)))
        return own

    def _e(self) -> int:
        """The e of an ending that is read by its letters."""
        names = ("e|KIT", "e|SCHWA") if self.plan.exact else ("e|DRESS", "e|KIT", "e|SCHWA")
        return min(self.plan.at(key(name, self.plan.accent), False, False) for name in names)

    # -- forms as they stand in a text -------------------------------------------------------------------------------

    def readable(self, form: str) -> list[tuple[Pair, ...]]:
        """For each way to see a form as it stands the steps of its senses, its capitals minded."""
        capital = self.capital(form)
        ways = islice(product(*self.senses(words.plain(form))), MOST)
        return list(dict.fromkeys(tuple((max(a, capital), max(b, capital)) for a, b in way) for way in ways if way))

    def senses(self, word: str) -> list[list[Pair]]:
        """For each sense of a plain word its options; none for a word that is not known."""
        if word in self.plan.pinned:
            return [self.options((self.plan.pinned[word],))]
        for base, ending in bases(word):
            if base in self.plan.pinned:
                return [self._parts(self._pinned_form(word, base), Parts(((self.plan.pinned[base],),), ending))]
        by_sense: dict[str, list[Divided]] = {}
        for r in readings(self.plan.accent, word):
            by_sense.setdefault(r.sense, []).append(r)
        return [self.options(tuple(group)) for group in by_sense.values()]

    def _pinned_form(self, word: str, base: str) -> Divided:
        """A form of a pinned word that ends in -s or 's, which is said as the base's last sound has it."""
        pinned = self.plan.pinned[base]
        said = "s" if pinned.said[-1] in "ptkfθ" else "z"
        last = Segment(("s", (said,)), (len(word) - 1,))
        return Divided(word, "", (*pinned.segments, last))

    def capital(self, form: str) -> int:
        """The step from which the capitals of a form are known."""
        steps = [
            self.plan.capitals.get(c.lower(), self.plan.capitals_from) for c in form if c.isalpha() and c != c.lower()
        ]
        return max(steps, default=0)


def _stands(name: str, run: list[str]) -> bool:
    """Does a run of graphemes begin with a named one (sch: s and ch), which is two of them at least?"""
    return any("".join(run[:size]) == name for size in range(2, len(run) + 1))


def holds(pattern: str, shape: str) -> bool:
    """Does a word of a pattern hold a structure? In a word of several vowels what stands around the first and the last of them
    is compared, where the structure has two consonants or more there."""
    if pattern.count("V") < 2 or shape.count("V") != 1:
        return shape in pattern
    before, after = map(len, shape.split("V"))
    start, end = len(pattern.split("V")[0]), len(pattern.rsplit("V", 1)[1])
    return max(before, after) > 1 and (before < 2 or start >= before) and (after < 2 or end >= after)


def _syllables(segments: Sequence[Segment]) -> int:
    return sum(s.vowel for s in segments)


def first_step(way: tuple[Pair, ...]) -> int:
    """The first step at which every sense of a form can be read."""
    return max(min(pair) for pair in way)


def status(way: tuple[Pair, ...], step: int) -> str:
    """The status of a form at a step."""
    known = [min(pair) <= step for pair in way]
    if not any(known):
        return "blocked"
    if not all(known):
        return "unsure"
    return "decodable" if all(pair[0] <= step for pair in way) else "tricky"
