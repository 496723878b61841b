"""Where in a stretch of text without white space addresses stand: of sites (www.x.org/a, http://x.org, x.org) and of e-mail.

Each run of letters, digits and marks is looked at from its beginning only and is never gone back over, so the time grows with the
length of the stretch, whatever it holds.
"""

from __future__ import annotations

import re

LONGEST = 2000
"""A longer stretch without white space holds no address."""
DOMAINS = "com|org|net|uk|edu|gov|io|info|school|co"
"""What an address ends in that has nothing else to tell it by: end.Then and stop.go are words without a blank between them."""

_PATH = r"[^\s\"<>“”]*+"
_PORT = r"(?::\d\d++)?+"
_TAIL = rf"{_PORT}(?:[/?\#]{_PATH})?+"
_LABELS = r"(?:[^\W_][\w-]*+\.(?=[^\W_])(?!(?<=[a-z]\.)[A-Z]))"
"""Parts of a name with their dots. A capital after a small letter and a dot begins a sentence: x.org.Then."""
_LAST = r"[^\W_]++"
_START = r"(?:(?<![\w.+@-])(?<![^\W_]['’])[_.+-]*+|(?<=\.\.)(?!\.))"
"""Where a run of what names are made of begins; dots in a row end one (tin...tin)."""
ADDRESS = re.compile(
    rf"""
      (?<![^\W_])((?:https?://(?:[\w.+:-]++@)?+|www\.){_LABELS}*+{_LAST}{_TAIL})
    | {_START}
      ( (?:mailto:)?+[\w+-]++(?:\.[\w+-]++)*+@(?:[\w-]++\.(?=[^\W_]))++{_LAST}{_TAIL}
      | (?:[\w+-]++://)?+
        (?: {_LABELS}++(?:{DOMAINS})(?![^\W_]){_TAIL}
          | (?![\d.]++[a-z]){_LABELS}++[a-z]{{2,63}}+{_PORT}/{_PATH}
          | (?:\d{{1,3}}+\.){{3}}\d{{1,3}}+{_PORT}/{_PATH}
        )
      )
    """,
    re.VERBOSE,
)
"""An address that says what it is; or else of e-mail, or what ends like an address of a site or has a path.
A numeral before a dot (1.yes/no) is no name."""
_CLOSING = ".,:;!?…'\"”’‘“)]}>*_#&»—–"
"""What ends a sentence or a quotation and not the address before it."""


def addresses(stretch: str) -> list[tuple[int, int]]:
    """Start and end of each address in a stretch without white space, in order."""
    if len(stretch) > LONGEST or not ("." in stretch or "@" in stretch or "://" in stretch):
        return []
    found = []
    for match in ADDRESS.finditer(stretch):
        text = match[1] or match[2]
        start = match.end() - len(text)
        found.append((start, start + _length(text)))
    return found


def _length(found: str) -> int:
    """How much of what was found is the address, without the punctuation after it and without a possessive's ending."""
    length = 0
    while len(found) != length:
        length = len(found)
        found = found.rstrip(_CLOSING)
        if found.endswith(("'s", "’s", "'S", "’S")):
            found = found[:-2]
    return length
