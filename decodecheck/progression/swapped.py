"""Names near a mistyped one: two letters that have changed places come first (`kc` for `ck`)."""

from __future__ import annotations

from decodecheck.errors import cut, nearest

LONGEST = 40
"""A longer name is no slip of a finger."""


def nearest_name(name: str, known: list[str], *, most: int = 3) -> list[str]:
    """The known names closest to one, best first; those with two neighbouring letters the other way round before all others."""
    if len(name) > LONGEST:
        return nearest(cut(name, LONGEST), known, most=most)
    turned = swapped(name)
    return list(dict.fromkeys([*(k for k in known if k in turned), *nearest(name, known, most=most)]))[:most]


def swapped(name: str) -> list[str]:
    """A name with two neighbouring letters the other way round, at each place where that makes a difference."""
    return [name[:i] + name[i + 1] + name[i] + name[i + 2 :] for i in range(len(name) - 1) if name[i] != name[i + 1]]
