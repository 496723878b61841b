"""Packages with one part changed, left out, doubled or taken for another: what a reader must either read or tell."""

from __future__ import annotations

from hypothesis import strategies as st

from tests.documents.making import package

MARKS = [
    b"<p>",
    b"</p>",
    b"&a;",
    b"\0",
    b"<!--",
    b"]]>",
    b"<w:p>",
    b"</w:p>",
    b"<w:del>",
    b"<text:p>",
    b"</text:span>",
    b"<!DOCTYPE a>",
]


@st.composite
def damaged(draw: st.DrawFn, whole: dict[str, str | bytes]) -> bytes:
    """A zip file of the parts with something wrong."""
    parts = dict(whole)
    name = draw(st.sampled_from(sorted(parts)))
    found = parts[name]
    part = found.encode() if isinstance(found, str) else found
    at = draw(st.integers(0, len(part)))
    how = draw(st.sampled_from(["cut", "out", "byte", "twice", "mark", "swap"]))
    if how == "out":
        del parts[name]
    elif how == "cut":
        parts[name] = part[:at]
    elif how == "byte":
        parts[name] = part[:at] + draw(st.binary(min_size=1, max_size=3)) + part[at + 1 :]
    elif how == "twice":
        parts[name] = part[: draw(st.integers(at, len(part)))] + part[at:]
    elif how == "swap":
        parts[name] = parts[draw(st.sampled_from(sorted(parts)))]
    else:
        parts[name] = part[:at] + draw(st.sampled_from(MARKS)) + part[at:]
    data = package(parts)
    return data[: draw(st.integers(0, len(data)))] if draw(st.integers(0, 5)) == 0 else data
