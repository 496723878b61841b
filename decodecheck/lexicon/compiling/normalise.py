"""Bring the notations of the source dictionaries into the project's own (see `rules/pronunciations/NOTICE.md`)."""

from __future__ import annotations

import re

from decodecheck.phonics.sounds import BRITISH

_DIPHTHONGS = {"A": "eɪ", "I": "aɪ", "W": "aʊ", "Y": "ɔɪ", "O": "oʊ", "Q": "əʊ", "ʧ": "tʃ", "ʤ": "dʒ"}
_BRITISH_TOKENS = re.compile(r"[ˈˌ]?(?:tʃ|dʒ|[iuɑɔɜəɛ]ː|.)")
_BRITISH = {"a": "æ", "ɛ": "e", "ɛː": "eə", "əː": "ɜː", "ᵊ": "ə", "ɹ": "r"}
_AMERICAN = {"ᵊ": "ə", "ᵻ": "ɪ", "ɾ": "t"}
_VOWELS = frozenset("æɑɒɔeɪʌʊuiəɜaɛo")


def dictionary_entry(spelling: str, raw: str, lexicon: str) -> str:
    """One pronunciation of the British/American pair of dictionaries, as space-separated tokens.

    Characters that the notation does not know stay as they are; the caller drops such entries.
    """
    raw = raw.replace("ʔn", "tən").replace("ʔ", "t")
    if lexicon != BRITISH:
        raw = raw.replace("hw", "w").replace("mpf", "mf")
    tokens = []
    stress = ""
    for piece in _BRITISH_TOKENS.findall(raw):
        mark = piece[0] if piece[0] in "ˈˌ" else ""
        body = piece[len(mark) :]
        if not body:
            stress = mark
            continue
        table = _BRITISH if lexicon == BRITISH else _AMERICAN
        body = _DIPHTHONGS.get(body, table.get(body, body))
        tokens.append((mark or stress) + body)
        stress = ""
    return finish(spelling, tokens, lexicon)


_ARPABET = {
    "AA": "ɑ", "AE": "æ", "AH": "ʌ", "AO": "ɔ", "AW": "aʊ", "AY": "aɪ", "B": "b", "CH": "tʃ", "D": "d", "DH": "ð",
    "EH": "ɛ", "ER": "ɜ", "EY": "eɪ", "F": "f", "G": "ɡ", "HH": "h", "IH": "ɪ", "IY": "i", "JH": "dʒ", "K": "k", "L": "l",
    "M": "m", "N": "n", "NG": "ŋ", "OW": "oʊ", "OY": "ɔɪ", "P": "p", "R": "ɹ", "S": "s", "SH": "ʃ", "T": "t", "TH": "θ",
    "UH": "ʊ", "UW": "u", "V": "v", "W": "w", "Y": "j", "Z": "z", "ZH": "ʒ",
}  # fmt: skip


def arpabet(spelling: str, symbols: list[str]) -> str:
    """One pronunciation of the CMU Pronouncing Dictionary (ARPAbet with stress digits), as space-separated tokens."""
    tokens: list[str] = []
    for symbol in symbols:
        digit = symbol[-1] if symbol[-1].isdigit() else ""
        name = symbol[:-1] if digit else symbol
        body = _ARPABET[name]
        if digit == "0":
            body = {"AH": "ə", "ER": "ə"}.get(name, body)
        mark = {"1": "ˈ", "2": "ˌ"}.get(digit, "")
        tokens.append(mark + body)
        if name == "ER":
            tokens.append("ɹ")
    return finish(spelling, tokens, "american")


def finish(spelling: str, tokens: list[str], lexicon: str) -> str:
    """Corrections that depend on the spelling: affricates across a join, inserted glides, r-vowels."""
    bare = [t.lstrip("ˈˌ") for t in tokens]
    if "tsh" in spelling and "ch" not in spelling and bare.count("tʃ") == 1 and "ʃ" not in bare:
        at = bare.index("tʃ")
        tokens[at : at + 1] = ["t", "ʃ"]
        bare[at : at + 1] = ["t", "ʃ"]
    tokens = _syllabic(tokens)
    if lexicon == BRITISH:
        tokens = _weak_i(spelling, tokens)
    else:
        out: list[str] = []
        bare = [t.lstrip("ˈˌ") for t in tokens]
        for i, token in enumerate(tokens):
            following = bare[i + 1][0] if i + 1 < len(bare) else ""
            if (
                bare[i] == "w"
                and "w" not in spelling
                and out
                and bare[i - 1] in ("ə", "u", "ʊ")
                and following in _VOWELS
            ):
                # an inserted glide (situation as sɪtʃəweɪʃən): the vowel before it is a weak oo
                out[-1] = out[-1].replace("ə", "u").replace("ʊ", "u")
                continue
            if following == "ɹ" and bare[i] in ("i", "u") and token != bare[i]:
                token = token.replace("i", "ɪ").replace("u", "ʊ")
            if token == "j" and "oy" in spelling and out and out[-1].endswith("ɔɪ"):
                continue
            out.append(token)
        tokens = out
    return " ".join(tokens)


def _syllabic(tokens: list[str]) -> list[str]:
    """Write the vowel of a syllabic consonant: special ends in ə l, difficult in k ə l t, prism in z ə m."""
    out: list[str] = []
    for i, token in enumerate(tokens):
        after = tokens[i + 1] if i + 1 < len(tokens) else ""
        vowel_next = bool(after) and (_is_vowel(after) or after in ("j", "r", "ɹ", "w"))
        if token in ("l", "n", "m") and out and not vowel_next and out[-1][-1] not in "ːrɹl" and not _is_vowel(out[-1]):
            out.append("ə")
        out.append(token)
    return out


def _is_vowel(token: str) -> bool:
    return token.lstrip("ˈˌ")[0] in _VOWELS


_NEAR_SPELLINGS = re.compile("eer|ear|ere|ier|eir|shire")


def _weak_i(spelling: str, tokens: list[str]) -> list[str]:
    """British habits of today: no /j/ in resolution, closure; the weak vowel of *radio* and *carried* is that of *happy*, as most British dictionaries now write it."""
    out = list(tokens)
    if spelling.endswith("shire") and out[-3:] == ["ʃ", "ɪ", "ə"]:
        del out[-2]  # Yorkshire with the vowel of sister, as is usual
    for i in range(len(out) - 2, 0, -1):
        # resolution and closure without a /j/ after l before the ending, or after ʒ
        if out[i] == "j" and (out[i - 1] == "ʒ" or (out[i - 1] == "l" and re.search("lu[ts]i", spelling))):
            del out[i]
    tokens = list(out)
    for i, token in enumerate(tokens[:-1]):
        if token == "ɪ" and _is_vowel(tokens[i + 1]) and not _NEAR_SPELLINGS.search(spelling):
            out[i] = "i"
    if spelling.endswith(("ied", "ies")) and out[-2:-1] == ["ɪ"] and len(out) > 3:
        out[-2] = "i"
    return out
