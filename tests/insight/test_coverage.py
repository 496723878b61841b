"""What a text gives practice in: counted by hand, as properties, against `words`, and against the curriculum's example words."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.cli.main import run
from decodecheck.insight.coverage import NAME, Coverage, Held, coverage
from decodecheck.insight.in_order import in_order, since
from decodecheck.insight.lesson_finder import LessonFinder
from decodecheck.judging.verdict import BLOCKED, DECODABLE, TRICKY
from decodecheck.lexicon.items import GPC
from decodecheck.phonics.sounds import plain_ipa
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from decodecheck.reports import covering
from decodecheck.session import Session
from decodecheck.wordlists.find import find
from decodecheck.wordlists.targets import Target
from decodecheck.wordlists.wanted import WantedWords
from tests.checks.published import BRITISH, folded, table

from .demo import DEMO, HARBOUR, harbour

SESSION = Session(str(HARBOUR), "20")


def of(text: str, session: Session = SESSION) -> Coverage:
    return coverage(session.check_text(text, every_word=True))


def held(one: Coverage, name: str) -> Held:
    return next(h for h in one.lessons if h.name == name)


def test_counted_by_hand() -> None:
    one = of(
        'Tilda had a boat. "The boat is on the loam!" said Omar.\n\nSeeds, weeds and an oak. Omar can see the boats'
    )
    assert one.running == 22
    # Tilda, Omar, Omar; a, The, is, the, said, the
    assert (one.statuses[NAME], one.statuses[TRICKY], one.statuses[DECODABLE]) == (3, 6, 13)
    oa = held(one, "oa as in boat")
    assert oa.words == ("boat", "boats", "loam", "oak") and (oa.start, oa.middle, oa.end, oa.times) == (1, 4, 0, 5)
    ee = held(one, "ee as in tree")
    assert ee.words == ("see", "seeds", "weeds") and (ee.start, ee.middle, ee.end) == (0, 2, 1)
    # the -s of seeds, weeds and boats is an ending, and only that of boats says /s/
    assert held(one, "-s").times == 3 and held(one, "s as in sun").times == 3
    # *the* does not inflate th, nor *Omar* the o of hot
    assert not held(one, "th as in this").words and held(one, "o as in hot").words == ("on",)
    assert one.tricky == (("the", 3), ("a", 1), ("is", 1), ("said", 1))
    # two full stops and a blank line end sentences; what is said and who says it are one
    assert one.sentences is not None and one.sentences.lengths == (4, 8, 5, 5)
    assert one.sentences.longest_at.line == 1


def test_no_share_without_its_words(capsys: pytest.CaptureFixture[str]) -> None:
    one = of("Could a yacht be a yacht? The boat réd!")
    assert one.blocked == (("yacht", 2), ("could", 1)) and one.unsure == (("réd", 1),)
    assert sum(times for _, times in one.blocked) == one.statuses[BLOCKED]
    assert run(["coverage", str(DEMO / "texts")]) == 0
    said = capsys.readouterr().out.split("What is new")[0]
    # the share of tricky words, and the words that cannot be read, as a teacher reads them in the table
    assert "34%: the, a" in said and "biscuit, bread," in said


def test_parts_of_the_text() -> None:
    one = of("oak " + "cat " * 8 + "soap " + "cat " * 10)
    # the first and the tenth of twenty words: two words make a part
    assert one.parts == 10 and held(one, "oa as in boat").parts == 2 and held(one, "c as in cup").parts == 10
    assert of("cat oak").parts == 2


def test_what_its_step_teaches_and_it_does_not_hold() -> None:
    one = of("We catch a silly fish.")
    assert one.lacking == ["ve as in have", "tricky don't"]
    assert [h.name for h in one.new] == ["tch as in catch", "ve as in have", "y as in funny"]
    assert "or as in fork" in [h.name for h in one.unmet_before]
    # funny has the ending -y, which comes later: it is not decodable, and practises nothing
    later = of("We don't have funny fish.")
    assert later.statuses[BLOCKED] == 1 and later.lacking == ["tch as in catch", "y as in funny"]


def test_a_weakened_vowel_and_a_doubled_letter_are_told_apart() -> None:
    one = of("The seven puppets.")
    assert not held(one, "p as in pen").words[1:] and dict(one.apart) == {"e": 2, "pp": 1}
    # 5 graphemes of seven, and 6 of puppets
    assert one.graphemes == 11


def test_groups_are_orders_like_any_other() -> None:
    text = "Nettle met a snail in the night."
    behind = of(text, Session(str(HARBOUR), "20 except ai as in rain"))
    assert "ai as in rain" not in [h.name for h in behind.lessons] and behind.statuses[BLOCKED] == 1
    ahead = of("It is a day to play.", Session(str(HARBOUR), "20 also ay as in day"))
    assert held(ahead, "ay as in day").words == ("day", "play")
    assert {h.name for h in of(text, Session(str(HARBOUR), "20 lag 3")).lessons} == {
        h.name for h in of(text, Session(str(HARBOUR), "17")).lessons
    }


def test_a_report_without_every_word_will_not_do() -> None:
    with pytest.raises(ValueError, match="every word"):
        coverage(SESSION.check_text("A cat sat."))


# -- properties ---------------------------------------------------------------------------------------------------------------

WORDS = [
    "cat",
    "boat",
    "seeds",
    "the",
    "said",
    "Tilda",
    "splash",
    "jumping",
    "sister",
    "light",
    "funny",
    "catch",
    "bread",
    "Omar's",
    "singing",
    "ink",
    "oh",
    "I",
    "sheep-dog",
    "don't",
]
TEXTS = st.lists(st.sampled_from([*WORDS, "cat.", "boat!", "\n\nSeeds"]), min_size=1, max_size=25).map(" ".join)


@settings(max_examples=60, deadline=None)
@given(TEXTS, TEXTS)
def test_a_text_after_another_holds_what_both_hold(first: str, second: str) -> None:
    one, other = of(first), of(second)
    both = of(f"{first}.\n\n{second}")
    assert both.statuses == one.statuses + other.statuses and both.graphemes == one.graphemes + other.graphemes
    for a, b, c in zip(one.lessons, other.lessons, both.lessons):
        assert (c.start, c.middle, c.end, c.whole) == (
            a.start + b.start,
            a.middle + b.middle,
            a.end + b.end,
            a.whole + b.whole,
        )
        assert set(c.words) == {*a.words, *b.words} and c.offered == a.offered
        assert max(1, len(c.words)) <= max(1, c.times) and c.parts <= min(c.times, both.parts)
    assert Counter(dict(both.tricky)) == Counter(dict(one.tricky)) + Counter(dict(other.tricky))
    if one.sentences and other.sentences:
        assert both.sentences is not None and both.sentences.lengths == one.sentences.lengths + other.sentences.lengths


@pytest.mark.parametrize("path", sorted((DEMO / "texts").rglob("*.txt")), ids=lambda p: p.stem)
def test_each_grapheme_is_counted(path: Path) -> None:
    """Of lessons that name single graphemes, the occurrences and what is left over are all graphemes of the decodable words."""
    order, problems = resolve(plain_order(harbour()), "plain.progression")
    assert not problems
    report = Session(str(HARBOUR), "27").check_text(path.read_text(encoding="utf-8"), every_word=True)
    finder = LessonFinder(order, 27)
    for entry in report.entries:
        for reading in report.verdict(entry).readings[:1]:
            number = sum(s.grapheme not in "'-" for s in reading.segments)
            assert number == len([*finder.places(reading)]) + len([*finder.left_over(reading)]), entry.form


def plain_order(order: TeachingOrder) -> str:
    """An order that teaches the same correspondences, and nothing else."""
    named = [f"step {m.step}\n  teach {m.label}\n" for m in order.mentions if m.kind == "correspondence"]
    steps: dict[str, str] = {}
    for text in named:
        head, lesson = text.split("\n", 1)
        steps[head] = steps.get(head, "") + lesson
    return 'progression "Plain"\naccent southern-british\n' + "".join(f"{h}\n{t}" + "\n" for h, t in steps.items())


# -- against other parts and published words ------------------------------------------------------------------------------------


@pytest.mark.parametrize("step", [14, 27])
def test_likely_words_are_those_of_word_lists(step: int) -> None:
    order = harbour()
    finder = LessonFinder(order, step)
    for lesson, offered in zip(finder.lessons, finder.offered()):
        target = Target("--with", lesson.statement, lesson.mention.keys)
        if not offered:
            continue
        assert find(order, step, WantedWords((target,), likely=3.0)).fitting == offered, lesson.statement


STANDARD = Path(__file__).parents[2] / "rules" / "progressions" / "england-national-curriculum.progression"
ROWS: dict[tuple[str, str], list[str]] = {}
for row in table("nc_appendix1_year1.tsv"):
    if row["grapheme"] and not row["row_label"].startswith("adding "):
        ROWS.setdefault((row["grapheme"], row["phoneme"]), []).append(row["word"])
NOT_HELD = {
    ("ea", "read"): "has two sounds, and the text does not say which is meant",
    ("ve", "live"): "has two sounds, of which one has i-e",
    ("ou", "you"): "is a tricky word",
    ("wh", "where"): "is a tricky word",
    ("ue", "Tuesday"): "counts as a name",
    ("ur", "Thursday"): "counts as a name",
    ("au", "dinosaur"): "aur is one grapheme here; au and r are accepted as well",
    ("are", "scared"): "its e belongs to the ending -ed",
    ("y", "funny"): "counts for the ending -y",
}
"""(grapheme, word) to the reason why the text of its row does not count it."""


def test_example_words_cover_their_row() -> None:
    # source: National curriculum in England, English Appendix 1 (2013), year 1, "Example words"
    missing: set[tuple[str, str]] = set()
    session = Session(str(STANDARD))
    order = session.order(str(STANDARD))
    lessons = LessonFinder(order, order.last).lessons
    for (grapheme, phoneme), words in ROWS.items():
        one = of("\n\n".join(words), session)
        of_row = {
            lesson.statement
            for lesson in lessons
            if lesson.name == grapheme
            and any(
                "".join(folded(grapheme, key.sound, False, BRITISH)) == plain_ipa(phoneme)
                for key in lesson.mention.keys
                if key.kind == GPC
            )
        }
        found = {word for h in one.lessons if h.name in of_row for word in h.words}
        missing |= {(grapheme, word) for word in words if word.lower() not in found}
    assert missing == NOT_HELD.keys()


# -- texts one after the other, and the command -----------------------------------------------------------------------------------


def test_texts_one_after_the_other() -> None:
    texts = ["Omar met a sheep.", "Omar can see the goat.", "A dog sat.", "A man ran."]
    covered = [of(text, Session(str(HARBOUR), str(step))) for text, step in zip(texts, (14, 14, 14, 20))]
    (group,) = in_order(covered)
    met = {m.name: m for m in group.met}
    assert met["ee as in tree"].holding == (1, 2) and met["ee as in tree"].since == 2
    assert met["oa as in boat"].holding == (2,) and met["oa as in boat"].longest == 2
    # what is taught at step 20 is read in one text only
    assert (met["ve as in have"].texts, met["ve as in have"].holding, met["ve as in have"].since) == (1, (), None)
    assert [since(covered, at)["oa as in boat"] for at in range(4)] == [None, 0, 1, 2]
    first, last = group.steps
    assert (first.step, len(first.texts), first.lacking) == (14, 3, ("tricky some", "tricky were"))
    assert "m as in man" not in first.unmet_before and "qu as in queen" in first.unmet_before
    assert last.lacking == ("tch as in catch", "ve as in have", "y as in funny", "tricky don't")


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(DEMO.parent)
    assert run(["coverage", "corpora_demo/texts", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    schema = json.loads((Path(covering.__file__).parent / "coverage-1.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(told, schema)
    assert [f["step"] for f in told["files"]] == [8, 12, 14, 16, 20, 22, 23, 27]
    for file in told["files"]:
        kinds = ("decodable", "tricky", "names", "not_yet_decodable", "to_check_by_eye")
        assert sum(file[kind] for kind in kinds) == file["words"] == sum(file["sentences"])
    assert run(["coverage", "corpora_demo/texts", "--format", "csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) == sum(len(f["lessons"]) for f in told["files"])
    assert {row["times"] for row in rows if not row["which"]} == {"0"}
    for name in ("coverage.html", "coverage.docx"):
        assert run(["coverage", "corpora_demo/texts/step-14", "-o", str(tmp_path / name)]) == 0
        assert (tmp_path / name).stat().st_size > 5000
    assert (
        run(["coverage", "corpora_demo/wordlists/step-12-words.txt", "--step", "12", "--progression", str(HARBOUR)])
        == 0
    )
    assert "Sentences" not in capsys.readouterr().out


def test_a_text_that_cannot_be_read_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "story.txt").write_text("A cat sat.", encoding="utf-8")
    asked = ["coverage", str(tmp_path / "gone.txt"), str(tmp_path / "story.txt"), "--progression", str(HARBOUR)]
    assert run(asked) == 2
    said = capsys.readouterr()
    assert "There is no such file or folder." in said.err and "Coverage: " in said.out
    (tmp_path / "story.txt").write_text("12 % 7!", encoding="utf-8")
    assert run(["coverage", str(tmp_path / "story.txt"), "--progression", str(HARBOUR)]) == 0
    assert "0 words" in capsys.readouterr().out
