"""decodecheck in a spaCy pipeline, held against a check of the same text; spaCy is the reference for tokens and for saving."""

import pickle
import tomllib
from pathlib import Path
from typing import Any

import pytest
import spacy
from hypothesis import given
from hypothesis import strategies as st
from spacy.language import Language
from spacy.tokens import Doc

from decodecheck import api, pipeline
from decodecheck.judging.verdict import ALLOWED, BLOCKED, DECODABLE, TRICKY, UNSURE
from tests.test_readme import blocks

ROOT = Path(__file__).parents[1]
HARBOUR = ROOT / "corpora_demo" / "harbour-lane.progression"
TEXTS = sorted((ROOT / "corpora_demo" / "texts").rglob("*.txt"))


def made(step: str | None = "14", progression: Path = HARBOUR) -> Language:
    nlp = spacy.blank("en")
    nlp.add_pipe("decodecheck", config={"progression": str(progression), "step": step})
    return nlp


@pytest.fixture(scope="module")
def nlp() -> Language:
    return made()


def seen(doc: Doc) -> list[tuple[str, bool | None, list[str]]]:
    return [(t.text, t._.decodable, list(t._.graphemes)) for t in doc]


def test_each_token_is_told_of_its_word(nlp: Language) -> None:
    # spaCy cuts didn't into did and n't: one word of two tokens
    assert seen(nlp("Tilda didn't bake a cake, 10 times!")) == [
        ("Tilda", True, []),
        ("did", True, ["d", "i", "d"]),
        ("n't", True, ["n", "'", "t"]),
        ("bake", False, ["b", "a-e", "k"]),
        ("a", True, ["a"]),
        ("cake", False, ["c", "a-e", "k"]),
        (",", None, []),
        ("10", None, []),
        ("times", False, ["t", "i-e", "m", "s"]),
        ("!", None, []),
    ]


def test_the_parts_of_a_word_with_hyphens(nlp: Language) -> None:
    assert seen(nlp("ship-shape")) == [
        ("ship", True, ["sh", "i", "p"]),
        ("-", None, []),
        ("shape", False, ["sh", "a-e", "p"]),
    ]
    # what is said twice or drawn out is one word, and so is one that is cut or that a line end divides
    for text, value in (("b-b-but", True), ("sp-la-sh", False), ("ten-\nder", False), ("hee-haw", True)):
        doc = nlp(text)
        assert {t._.decodable for t in doc if t.text.isalpha()} == {value}, text
    assert [list(t._.graphemes) for t in nlp("ten-\nder")] == [["t", "e", "n"], [], ["d", "er"]]
    assert [g for t in nlp("sp-la-sh") for g in t._.graphemes] == ["s", "p", "l", "a", "sh"]


ODD = [
    "didn't",
    "can't",
    "Kit’s",
    "well-fed",
    "ship-shape",
    "10am",
    "cannot",
    "gonna",
    "gotta",
    "wed",
    "id",
    "ive",
    "im",
    "hed",
    "hes",
    "thats",
    "whats",
    "hows",
    "whos",
    "dont",
    "cant",
    "wont",
    "yall",
    "y'all",
    "o'clock",
    "Mr.",
    "Mrs.",
    "a.m.",
    "U.S.A.",
    "3rd",
    ":)",
    "I'm",
    "he'll",
    "should've",
    "shan't",
    "'tis",
    "goin'",
    "dogs'",
    "pig's",
    "re-read",
    "e-mail",
    "rock-'n'-roll",
    "three-legged",
    "end.Then",
    "cat...dog",
    "yes/no",
    "*hop*",
    "@tom",
    "#cat",
    "fish&chips",
    "well—fed",
    "sun-baked",
    "b-b-but",
    "too-o-o",
    "sp-la-sh",
    "hee-haw",
    "OK",
    "café",
    "réd",
    "mum@home.org",
    "shed",
    "were",
    "well",
    "ill",
    "soft\xadly",
    "“Stop!”",
    "‘Go,’",
    "(hat)",
    "ten-\nder",
    "sun-",
    "I’d’ve",
    "CANNOT",
    "Gonna",
    "DIDN’T",
    "Well-Fed",
]
# by the tokens that spaCy makes of them: words that it cuts, words that it keeps with their signs, several in one token
WORST = {False: 0, None: 1, True: 2}


@pytest.mark.parametrize("step", ["5", "14", "27"])
def test_odd_words_are_those_of_a_check(step: str) -> None:
    nlp = made(step)
    for text in [*ODD, " ".join(ODD), *(f"The {word} ran, {word}." for word in ODD)]:
        doc = nlp(text)
        report = api.check_text(text, progression=HARBOUR, step=step, every_word=True)
        said = doc._.decodability
        assert said.words == sum(1 for _ in report.words), text
        blocked = [at.word for at in report.words if at.verdict.status == BLOCKED]
        assert {w.lower() for w in said.blocked} == {w.lower() for w in blocked}, text
        for at in report.words:
            wanted = {BLOCKED: False, UNSURE: None}.get(at.verdict.status, True)
            own = [t for t in doc if t.idx < at.end and t.idx + len(t) > at.start and any(map(str.isalpha, t.text))]
            if all(at.start <= t.idx and t.idx + len(t) <= at.end for t in own):
                # together its tokens say what is said of the word
                assert min((t._.decodable for t in own), key=WORST.__getitem__) is wanted, (text, at.word)
            else:
                assert wanted or not any(t._.decodable for t in own), (text, at.word)


@pytest.mark.parametrize("path", TEXTS, ids=lambda p: p.stem)
def test_it_says_what_a_check_says(nlp: Language, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    report = api.check_text(text, progression=HARBOUR, step="14", every_word=True)
    doc = nlp(text)
    said = doc._.decodability
    fine = {DECODABLE, TRICKY, ALLOWED}
    assert said.step == 14
    assert said.readable == sum(report.counts[status] for status in fine)
    assert said.words == said.readable + report.counts[BLOCKED] + report.counts[UNSURE]
    assert said.to_check == report.counts[UNSURE] and 0 <= said.share <= 1
    blocked = {at.word.lower() for at in report.words if at.verdict.status == BLOCKED}
    assert {word.lower() for word in said.blocked} == blocked and len(said.blocked) == len(blocked)
    # by characters: what stands in a word is told of it, what stands in none is not
    of_letter: dict[int, str] = {i: at.verdict.status for at in report.words for i in range(at.start, at.end)}
    for token in doc:
        statuses = {of_letter[i] for i in range(token.idx, token.idx + len(token)) if i in of_letter}
        if not any(map(str.isalpha, token.text)):
            assert token._.decodable is None, token
        elif len(statuses) == 1:
            (status,) = statuses
            assert token._.decodable is (True if status in fine else False if status == BLOCKED else None), token
        elif not statuses:
            assert token._.decodable is None and not token._.graphemes


def test_a_document_of_nothing(nlp: Language) -> None:
    for text in ("", " \n", "!?", "10"):
        said = nlp(text)._.decodability
        assert (said.words, said.share, said.blocked) == (0, None, ())
    assert spacy.blank("en")("cake")._.decodability is None


@given(st.text(alphabet=st.sampled_from("abehkst'’-. \n\u00ad\u200d😀é1"), max_size=40))
def test_any_text_goes_through(nlp: Language, text: str) -> None:
    doc = nlp(text)
    assert doc.text == text
    assert doc._.decodability.readable + len(doc._.decodability.blocked) <= doc._.decodability.words


def test_it_takes_its_progression_along(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "base.progression").write_text("step 1\n  teach a, t, s, p\n", encoding="utf-8")
    own = tmp_path / "own.progression"
    own.write_text('include "base.progression"\nstep 2\n  teach i, n\n', encoding="utf-8")
    nlp = made("2", own)
    text = "A pin is in a tin, Sid sat."
    before = seen(nlp(text))
    nlp.to_disk(tmp_path / "saved")
    data, pickled = nlp.to_bytes(), pickle.dumps(nlp.get_pipe("decodecheck"))
    for path in (own, tmp_path / "base.progression"):
        path.unlink()
    monkeypatch.chdir(tmp_path)
    assert seen(spacy.load(tmp_path / "saved")(text)) == before
    other = spacy.blank("en")
    other.add_pipe("decodecheck", config={"progression": str(own)})
    with pytest.raises(api.UserError, match="There is no such file"):
        other("cat")
    assert seen(other.from_bytes(data)(text)) == before
    doc = pickle.loads(pickled)(other.make_doc(text))
    assert seen(doc) == before


def test_two_processes(nlp: Language) -> None:
    texts = [path.read_text(encoding="utf-8") for path in TEXTS]
    one, two = (list(nlp.pipe(texts, n_process=number, batch_size=2)) for number in (1, 2))
    assert [seen(doc) for doc in one] == [seen(doc) for doc in two]
    assert [doc._.decodability for doc in one] == [doc._.decodability for doc in two]


def test_a_document_can_be_written_and_read(nlp: Language) -> None:
    doc = nlp("The yacht didn't sink.")
    again = Doc(nlp.vocab).from_bytes(doc.to_bytes())
    assert seen(again) == seen(doc) and again._.decodability == doc._.decodability


def test_what_is_wrong_is_said_at_once(tmp_path: Path) -> None:
    with pytest.raises(api.UserError, match="There is no step"):
        made("99")
    wrong = tmp_path / "p.progression"
    wrong.write_text("step 1\n  teech a\n", encoding="utf-8")
    with pytest.raises(api.UserError):
        made(None, wrong)


def test_the_entry_point_names_it() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["entry-points"]["spacy_factories"] == {pipeline.NAME: "decodecheck.pipeline:make"}
    assert Language.has_factory(pipeline.NAME)


def test_the_example_of_the_readme(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "school.progression").write_bytes(HARBOUR.read_bytes())
    (block,) = [b for b in blocks(ROOT / "README.md") if b.startswith("import spacy")]
    said: dict[str, Any] = {}
    exec(block, said)
    assert said["doc"]._.decodability.blocked == ("yacht",)
    assert list(said["doc"][4]._.graphemes) == ["y", "ach", "t"]
