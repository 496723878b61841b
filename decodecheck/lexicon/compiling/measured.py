"""What is counted over the words of a lexicon to invent words like them: which sounds and spellings stand beside each other, and
what each grapheme says there.

Each word counts once, however common. A word is taken as runs of consonants and vowels in turn: the consonants that it begins with, a
vowel, the consonants after it, and in words of two syllables a second vowel and what follows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain
from typing import Any, TypeVar

from decodecheck.lexicon.beside import Context, Run, Spelling, contexts, vowel
from decodecheck.lexicon.store import Lexicon, Tables
from decodecheck.lexicon.units import SHORT, WEAK, Form
from decodecheck.phonics.align import VOWEL_LETTERS
from decodecheck.phonics.sounds import LEXICONS, Sound

USUAL = 0.15
"""The least part of the words with the same sounds at the same place that has to be spelt so."""
COMMON = 250
"""Hundredths of the Zipf scale: rarer words, many of them foreign, say little of what English words are like."""
DISTINCT = 3
"""So many distinct words have to have a sequence before it is taken for one of English."""
SHARE, SHARE_HERE = 0.12, 0.2
"""A sound is plausible for a grapheme that has it in so large a part of its words; for a single letter, in so large a part of those
in which the same stands beside it."""
IN_WORDS = 5
"""In so many words of one syllable a grapheme stands that readers look for."""
LAST_C: Run = (("c", ("k",)),)
_A = TypeVar("_A")
_B = TypeVar("_B")
Word = list[Run]


def measured(tables: Tables) -> dict[str, Any]:
    """All that is counted, for JSON: the graphemes with their sounds, and by lexicon what `sequences` and `plausible` find, where these are told by
    their places."""
    spellings: dict[Spelling, int] = {}

    def plain(found: object) -> object:
        """Counts as lists of pairs, graphemes with their sounds as numbers."""
        if isinstance(found, dict):
            return [[plain(key), plain(value)] for key, value in found.items()]
        if isinstance(found, tuple) and len(found) == 2 and isinstance(found[0], str) and isinstance(found[1], tuple):
            return spellings.setdefault((found[0], found[1]), len(spellings))
        return [plain(part) for part in found] if isinstance(found, (tuple, list)) else found

    lexicons = {}
    for name in LEXICONS:
        words = list(_divided(Lexicon(tables, name)))
        short = [word for word in words if len(word) == 3]
        long = [word for word in words if len(word) == 5]
        lexicons[name] = {
            "sequences": [plain(sequences(of)) for of in (short, words)],
            "plausible": [plain(plausible(of)) for of in (short, long)],
            "looked_for": looked_for(short),
        }
    return {"spellings": [[grapheme, "+".join(sound)] for grapheme, sound in spellings], "lexicons": lexicons}


def sequences(words: Sequence[Word]) -> list[Any]:
    """What stands beside what, as `decodecheck.wordlists.measured.Measured` reads it."""
    short = [runs for runs in words if len(runs) == 3]
    long = [runs for runs in words if len(runs) == 5]
    return [
        _usual(Counter(runs[0] for runs in words), lambda run: run),
        _grouped(Counter((_last(runs[0]), runs[1][0]) for runs in words)),
        _ends(Counter(pair for pair in ((runs[1][0], runs[2]) for runs in short) if not _clipped(*pair))),
        _ends(Counter((runs[3][0], runs[4]) for runs in long)),
        _grouped(Counter((runs[1][0], runs[2]) for runs in long)),
        _enough(Counter(runs[3][0] for runs in long)),
        _grouped(Counter((_last(runs[2]), runs[3][0][0][0]) for runs in long)),
    ]


def _ends(found: Counter[tuple[Spelling, Run]]) -> dict[Spelling, Counter[Run]]:
    return _grouped(_usual(found, lambda pair: pair[1], lambda pair: pair[0][0]))


def _last(run: Run) -> Spelling | None:
    return run[-1] if run else None


def _usual(
    found: Counter[_A], run: Callable[[_A], Run], beside: Callable[[_A], object] = lambda _: None
) -> Counter[_A]:
    """Counts without rare spellings of consonants (kl) that are mostly spelt otherwise (cl), beside the same thing, and without those of too few
    words."""
    by_sound: Counter[object] = Counter()
    for thing, times in found.items():
        by_sound[beside(thing), _sounds(run(thing))] += times
    return Counter(
        {
            thing: times
            for thing, times in _enough(found).items()
            if times >= USUAL * by_sound[beside(thing), _sounds(run(thing))]
        }
    )


def _clipped(vowel: Spelling, run: Run) -> bool:
    """Do a short vowel and a single c stand at the end of a word of one syllable? Those are clipped (doc, mic) or borrowed: /k/ is usually spelt ck
    there (National curriculum in England, English Appendix 1, 2013, year 1)."""
    return run == LAST_C and len(vowel[0]) == 1


def _sounds(run: Run) -> tuple[str, ...]:
    return tuple(code for _, sound in run for code in sound)


def _enough(found: Counter[_A]) -> Counter[_A]:
    """Counts without those of too few words."""
    return Counter({thing: times for thing, times in found.items() if times >= DISTINCT})


def _grouped(found: Counter[tuple[_A, _B]]) -> dict[_A, Counter[_B]]:
    """Counts by the first of each pair, without those of too few words."""
    result: dict[_A, Counter[_B]] = {}
    for (one, other), times in _enough(found).items():
        result.setdefault(one, Counter())[other] = times
    return result


def plausible(words: Iterable[Word]) -> dict[Context, list[Spelling]]:
    """What graphemes say beside others, the commonest first, where that is said in enough words and in a large enough part of them."""
    found: dict[Context, Counter[Sound]] = {}
    for word in words:
        graphemes = list(chain.from_iterable(word))
        for at, (_, sound) in enumerate(graphemes):
            for context in contexts(graphemes, at):
                found.setdefault(context, Counter())[sound] += 1
    shares = {
        context: [
            (context[0], sound)
            for sound, times in counts.most_common()
            if times >= DISTINCT and times >= counts.total() * (SHARE if len(context[0]) > 1 else SHARE_HERE)
        ]
        for context, counts in found.items()
    }
    return {context: said for context, said in shares.items() if said}


def looked_for(words: Iterable[Word]) -> list[str]:
    """Graphemes of several letters that readers look for: not the ti of station, nor the al of walk, which does not make one of tale."""
    found = Counter(grapheme for word in words for run in word for grapheme, _ in run if len(grapheme) > 1)
    usual = {
        grapheme
        for grapheme, times in found.items()
        if times >= IN_WORDS
        and "-" not in grapheme
        and grapheme[-1] not in "el"
        and (grapheme[0] in VOWEL_LETTERS or VOWEL_LETTERS.isdisjoint(grapheme))
    }
    return sorted(usual | {"ee", "oe", "ie", "ue", "ye"})


# -- the words ---------------------------------------------------------------------------------------------------------


def _divided(lex: Lexicon) -> Iterator[Word]:
    """The words of one and two syllables as runs of consonants and vowels in turn."""
    for forms in _readings(lex):
        runs: Word = [()]
        first_weak = last_weak = False
        for form in forms:
            spelling = form[:2]
            if not vowel(spelling[1]):
                runs[-1] = (*runs[-1], spelling)
                continue
            weak = _weak(*spelling)
            if weak and len(runs) == 3:
                spelling = spelling[0], (SHORT[spelling[0]],)  # the e of tennis is read as that of ten
            first_weak = first_weak or (weak and len(runs) == 1)
            last_weak = weak
            runs += [(spelling,), ()]
        # nor does the a of pizza tell how an a at the end is read that is not weakened
        if len(runs) == 3 or (len(runs) == 5 and not first_weak and (runs[4] or not last_weak)):
            yield runs


def _readings(lex: Lexicon) -> Iterator[list[Form]]:
    """The graphemes of the first readings of common words that are no names, are not made of others, and hold nothing irregular."""
    tables = lex.tables
    for word in range(tables.count):
        sense, after = lex.word_sense[word : word + 2]
        if sense == after or tables.zipf[word] < COMMON or tables.is_name[word]:
            continue
        reading = lex.sense_reading[sense]
        parts, units = lex.reading_part[reading : reading + 2], lex.reading_unit[reading : reading + 2]
        if parts[0] != parts[1]:
            continue
        of_units = (tables.unit_form[unit : unit + 2] for unit in lex.units[units[0] : units[1]])
        forms = [tables.forms[number] for start, end in of_units for number in tables.form_flat[start:end]]
        if not any(map(_odd, forms)):
            yield forms


def _odd(form: Form) -> bool:
    """Is a grapheme none that an invented word may have: irregular, silent, an apostrophe?"""
    grapheme, sound, _, irregular = form
    return irregular or not sound or not grapheme.replace("-", "").isalpha()


def _weak(grapheme: str, sound: Sound) -> bool:
    """Is a single vowel letter weakened?"""
    return grapheme in SHORT and sound[0] in WEAK and sound != (SHORT[grapheme],) and len(sound) == 1
