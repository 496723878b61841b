"""How common a word is in English at large, on the Zipf scale."""

from __future__ import annotations

from decodecheck.lexicon.store import tables


def zipf_frequency(word: str) -> float | None:
    """How common a plain lower-case word is on the Zipf scale, to two places; None where no figure is known.

    The Zipf scale is the logarithm to base 10 of the occurrences in a thousand million words (van Heuven, Mandera, Keuleers and
    Brysbaert, "SUBTLEX-UK", 2014, introduced it): 3 is one in a million, 6 one in a thousand. All figures are those of
    wordfreq's list "best" of English; its texts were mostly written for adults. The compiled lexicon keeps the figures of its
    own words. wordfreq itself, which is slow to load, is asked only where the lexicon has none, and only for a single word of
    letters: of several words, as in *well-known*, it gives an estimate that no text bears out.
    """
    known = tables()
    number = known.number(word)
    hundredths = int(known.zipf[number]) if number >= 0 else 0
    if hundredths:
        return hundredths / 100
    if not word or any(c.isdigit() for c in word):
        return None
    import wordfreq
    from wordfreq.tokens import tokenize

    if len(tokenize(word, "en")) != 1:
        return None
    return wordfreq.zipf_frequency(word, "en", wordlist="best") or None
