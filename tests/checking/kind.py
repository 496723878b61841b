"""The kind of finding that a verdict is by itself."""

from decodecheck.checking.kinds import Judged, kind_of
from decodecheck.judging.verdict import Verdict


def kind(verdict: Verdict) -> str:
    """Its name; "" for a verdict that is fine."""
    found = kind_of(Judged("form", "form", False, verdict, 1, "southern-british"))
    return found.name if found else ""
