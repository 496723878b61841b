"""The report for people: what it says once, and what it says again."""

from decodecheck.checking.check import Checker
from decodecheck.judging.judge import Judge
from decodecheck.progression.resolve import resolve
from decodecheck.reports.details import details
from decodecheck.reports.marks import marked_text
from decodecheck.reports.view import View
from decodecheck.source import SourceText

LETTERS = "teach a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y, z, th, sh, ck"


def lines(text: str, rest: str = "") -> list[str]:
    order, problems = resolve(f"step 1\n  {LETTERS}\n{rest}", "x")
    assert not problems
    report = Checker(Judge(order, 1)).check(SourceText("t.txt", text))
    return list(details(report, View(every_place=True)))


def explained(text: str, rest: str = "") -> list[tuple[str, str]]:
    """Each finding's word as it is marked, with the first line of what is said of it."""
    said = lines(text, rest)
    heads = [i for i, line in enumerate(said) if line.startswith("t.txt:") and " - " in line]
    found = []
    for at in heads:
        word, _, status = said[at].split(": ", 1)[1].partition(" - ")
        # the line of the text, the carets, the message
        found.append((word, "as above" if status.endswith(", as above") else said[at + 3].strip()))
    return found


def test_a_word_is_explained_once() -> None:
    (one, first), (two, again), (three, new) = explained("Bread. Then bread. Big head.")
    assert (one, two, three) == ("Br[ea]d", "br[ea]d", "h[ea]d")
    assert again == "as above"
    assert "/e/" in first and "/e/" in new
    # each text explains its words anew
    ((_, elsewhere),) = explained("Then bread.")
    assert elsewhere == first


def test_each_word_is_marked_where_it_stands() -> None:
    said = lines("A cat.\nThe bread, and\n  the bread.", "step 2\n  tricky the\n")
    assert "t.txt:2:5: br[ea]d - not yet decodable" in said
    assert "t.txt:3:7: br[ea]d - not yet decodable, as above" in said


def test_letters_are_marked_in_a_word_that_a_line_end_divides() -> None:
    order, problems = resolve(f"step 1\n  {LETTERS}\n", "x")
    assert not problems
    report = Checker(Judge(order, 1)).check(SourceText("t.txt", "big bre-\n  ad, bl-\new, tin"))
    assert marked_text(report) == "big br[e]-\n  [a]d, bl-\n[ew], tin"
