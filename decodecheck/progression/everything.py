"""The progression that teaches the whole inventory in one step.

python -m decodecheck.progression.everything > rules/progressions/everything.progression
"""

from __future__ import annotations

from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.store import lexicon, tables
from decodecheck.phonics.inventory import Correspondence, inventory, together
from decodecheck.phonics.sounds import BRITISH
from decodecheck.progression.meanings import as_in, combination_items

ACCENT = "southern-british"

HEAD = """\
# Everything the inventory holds, taught in one step: what a fluent reader of English can decode.
# Useful to see which words of a text no teaching of correspondences will make decodable.
# Made by `python -m decodecheck.progression.everything`; not written by hand.
progression "everything"
accent southern-british

step 1
"""


def everything() -> str:
    """The text of the file: every grapheme with all its key words, every combination, every ending."""
    lines = []
    for grapheme, rows in inventory().by_grapheme.items():
        rows = [c for c in rows if c.place != "ending" or grapheme == "ed"]
        words = dict.fromkeys([*(c.key_word for c in rows), *(w for c in rows if (w := elsewhere(c)))])
        if words and grapheme != "'":
            lines.append(f"  teach {grapheme} as in {' and '.join(words)}")
    lines.append(f"  together {', '.join(together())}")
    for name, combination in together().items():
        plain = combination_items(lexicon(BRITISH), name, "", ACCENT)
        words = dict.fromkeys(combination.key_words)
        others = [w for w in words if combination_items(lexicon(BRITISH), name, w, ACCENT) - plain]
        if others:
            lines.append(f"  teach {name} as in {' and '.join(others)}")
    lines.append(f"  teach {', '.join(ENDINGS)}")
    return HEAD + "\n".join(lines) + "\n"


def elsewhere(row: Correspondence) -> str:
    """The commonest word that has a correspondence where the key word, in this accent, has another; "" where none is needed."""
    lex, known = lexicon(BRITISH), tables()
    key = row.key_word.lower()
    if row.sound in as_in(row.grapheme, key, lex.readings(key), ACCENT).sounds:
        return ""
    words = [
        w
        for w in known.words()
        if row.grapheme[0] in w
        and any((s.grapheme, s.sound) == (row.grapheme, row.sound) for r in lex.readings(w) for s in r.segments)
    ]
    return max(words, key=lambda w: (not known.is_name[known.number(w)], known.zipf[known.number(w)]), default="")


if __name__ == "__main__":
    print(everything(), end="")
