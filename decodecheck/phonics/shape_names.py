"""Word structures in plain words: CCVC is "two consonants at the start (CCVC, as in stop)"."""

from __future__ import annotations

import re

EXAMPLES = {
    "VC": "up",
    "CV": "go",
    "CVC": "cat",
    "VCC": "and",
    "CCV": "sky",
    "CCVC": "stop",
    "CVCC": "lamp",
    "CCVCC": "stamp",
    "CCCVC": "strap",
    "CCCVCC": "sprint",
}
"""A familiar word of each structure; that each has it is tested against the lexicon."""
COUNT = ("no", "one", "two", "three", "four")


def in_words(name: str) -> str:
    """What a structure asks of a reader: `CCVC` -> `two consonants at the start (CCVC, as in stop)`.

    What is no pattern of C and V (`2 syllables`, `st`) comes back as `2 syllables`, `st side by side`.
    """
    match = re.fullmatch(r"(C*)V(C*)", name)
    if name.endswith("syllables"):
        return name
    if not match:
        return f"{name} side by side" if name.islower() else name
    start, end = map(len, match.groups())
    example = f", as in {EXAMPLES[name]}" if name in EXAMPLES else ""
    parts = [
        f"{COUNT[n]} consonants at the {where}" for n, where in ((start, "start"), (end, "end")) if 1 < n < len(COUNT)
    ]
    if start == end and len(parts) == 2:
        parts = [f"{COUNT[start]} consonants at the start and at the end"]
    return f"{' and '.join(parts)} ({name}{example})" if parts else f"the pattern {name}{example}"
