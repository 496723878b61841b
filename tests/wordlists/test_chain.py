"""Chains: one sound from word to word, told rightly; the shortest there is; what cannot be made is said."""

from __future__ import annotations

import csv
import io
import json
from collections import deque
from itertools import pairwise

import pytest

from decodecheck.cli.main import run
from decodecheck.errors import UserError
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import DECODABLE
from decodecheck.lexicon.common_words import unfit_words
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.sounds import project
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.chain import Chain, Chains, NotDecodable
from decodecheck.wordlists.pool import Pool
from decodecheck.wordlists.sound_sequences import ADDED, CHANGED, DROPPED, Neighbourhood, apart, one_apart

from ..insight.demo import HARBOUR, harbour, order_of

ORDER = harbour()


def said(word: str) -> set[tuple[str, ...]]:
    """What a word sounds like, by way of the whole readings of the lexicon."""
    return {
        tuple(x for s in r.segments for x in project(s.grapheme, s.sound, s.linked, "southern-british"))
        for r in lexicon("british").readings(word)
    }


def spelt(chain: Chain) -> list[str]:
    return [word.word for word in chain.words]


@pytest.mark.parametrize(
    ("step", "first", "last", "changes"),
    [
        (9, "sit", "shop", 3),
        (9, "hat", "back", 2),
        (12, "hat", "black", 3),
        (14, "sheep", "shop", 1),
        (27, "sheep", "moon", 3),
    ],
)
def test_every_change_is_one_sound(step: int, first: str, last: str, changes: int) -> None:
    chain = Chains(ORDER, step).between(first, last)
    assert (spelt(chain)[0], spelt(chain)[-1], len(chain.changes)) == (first, last, changes)
    judge = Judge(ORDER, step)
    assert {judge.judge(word).status for word in spelt(chain)} == {DECODABLE}
    for one, other in pairwise(spelt(chain)):
        assert min(apart(a, b) for a in said(one) for b in said(other)) == 1


def test_no_chain_is_shorter() -> None:
    """A search of our own, which tries every word against every other."""
    pool = {w.word: w.sounds for w in Pool(ORDER, 5).words()}
    for first, last in (("cat", "bun"), ("pen", "dog"), ("mud", "cap"), ("lap", "sun"), ("at", "bed")):
        far = {first: 0}
        waiting = deque([first])
        while waiting and last not in far:
            at = waiting.popleft()
            for word, sounds in pool.items():
                if word not in far and apart(pool[at], sounds) == 1:
                    far[word] = far[at] + 1
                    waiting.append(word)
        if last in far:
            assert len(Chains(ORDER, 5).between(first, last).changes) == far[last]
        else:
            with pytest.raises(UserError):
                Chains(ORDER, 5).between(first, last)


def test_index_finds_what_comparing_finds() -> None:
    words = Pool(ORDER, 4).words()
    near = Neighbourhood(words)
    for word in words[::25]:
        slow = {other.word for other in words if apart(word.sounds, other.sounds) == 1}
        assert {other.word for other in near.next_to(word.sounds)} == slow
        assert all(one_apart(word.sounds, o.sounds) is not None for o in near.next_to(word.sounds))


def test_what_changes_is_told() -> None:
    chain = Chains(ORDER, 27).between("sea", "seek")
    (only,) = chain.changes
    assert (only.kind, only.place, only.old, only.new) == (ADDED, 3, None, ("k", "k"))
    assert only.respelt == (("ea", "ee"),)
    (only,) = Chains(ORDER, 12).between("black", "back").changes
    assert (only.kind, only.place, only.old, only.new, only.respelt) == (DROPPED, 2, ("l", "l"), None, ())
    (only,) = Chains(ORDER, 12).between("ship", "chip").changes
    assert (only.kind, only.old, only.new) == (CHANGED, ("sh", "ʃ"), ("ch", "tʃ"))


def test_box_has_four_sounds() -> None:
    (only,) = Chains(ORDER, 12).between("box", "fox").changes
    assert (only.kind, only.place) == (CHANGED, 1)
    (word,) = Pool(ORDER, 12).named("box")
    assert len(word.sounds) == 4


def test_wanted_length_and_seed() -> None:
    chains = Chains(ORDER, 14)
    found = [chains.of_length("hat", 10, seed) for seed in range(8)]
    assert {len(chain.words) for chain in found} == {10}
    assert len({tuple(spelt(chain)) for chain in found}) > 4
    assert spelt(Chains(ORDER, 14).of_length("hat", 10, 5)) == spelt(found[5])
    for chain in found:
        assert len({word.sounds for word in chain.words}) == 10
        for one, other in pairwise(chain.words):
            assert apart(one.sounds, other.sounds) == 1


def test_pool_leaves_out_what_does_not_belong() -> None:
    words = Pool(ORDER, 27).words()
    spelled = {word.word for word in words}
    assert not spelled & {w for w, kind in unfit_words().items() if kind in ("unsuitable", "no word", "capital")}
    assert not spelled & {"nettle's", "omar", "lead", "row"}
    assert len(spelled) == len(words), "a word with two readings is in"
    both = Pool(ORDER, 27, heteronyms=True).words()
    assert len([w for w in both if w.word == "row"]) == 2


def test_heteronyms_only_when_asked_for() -> None:
    with pytest.raises(UserError, match="said in two ways"):
        Chains(ORDER, 27).between("row", "boat")
    chain = Chains(ORDER, 27, heteronyms=True).between("row", "boat")
    assert spelt(chain)[0] == "row"


def test_no_chain_is_said_with_a_remedy() -> None:
    order = order_of("step 1\n  teach a, t, i, n, s, p, k\n")
    with pytest.raises(UserError, match="There is no chain from tin to napkin") as error:
        Chains(order, 1).between("tin", "napkin")
    nearest = str(error.value).split("nearest word that can be reached is ")[1].split(",")[0]
    chain = Chains(order, 1).between("tin", nearest)
    assert spelt(chain)[-1] == nearest
    reachable = {word.word for word in Pool(order, 1).words() if _reaches(order, word.word)}
    target = min(said("napkin"))
    assert min(apart(min(said(word)), target) for word in reachable) == apart(min(said(nearest)), target)


def _reaches(order: TeachingOrder, word: str) -> bool:
    try:
        return word == "tin" or bool(Chains(order, 1).between("tin", word))
    except UserError:
        return False


@pytest.mark.parametrize(("word", "status"), [("sheep", "blocked"), ("said", "tricky"), ("Tilda", "allowed")])
def test_words_that_cannot_be_decoded(word: str, status: str) -> None:
    with pytest.raises(NotDecodable) as error:
        Chains(ORDER, 12).between(word, "cat")
    assert error.value.verdict.status == status


@pytest.mark.parametrize(
    ("arguments", "said_then"),
    [
        (["sheep", "cat", "--step", "9"], "The letters ee say /iː/ here"),
        (["mxq", "cat"], "mxq is not in the lexicon."),
        (["cat"], "There is no word to go to."),
        (["cat", "dog", "pig"], "A chain has a first and a last word."),
        (["cat", "dog", "--length", "4"], "--length and --seed are for a chain from one word."),
        (["cat", "--length", "1"], "A chain has 2 to 100 words."),
        (["cat", "cat"], "cat and cat are the same word."),
        (["sea", "see"], "sea and see sound the same."),
        (["a cat", "dog"], "a cat does not consist of letters only."),
        (["rabbit", "--length", "90", "--step", "8"], "No chain of 90 words from rabbit was found"),
    ],
)
def test_bad_input_is_one_clear_message(
    arguments: list[str], said_then: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["chain", *arguments, "--progression", str(HARBOUR)]) == 2
    shown = capsys.readouterr()
    assert said_then in shown.err
    assert shown.out == ""
    assert len(shown.err.splitlines()) == 2, "one message, and what to do"


def test_formats_say_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    command = ["chain", "sit", "shop", "--progression", str(HARBOUR), "--step", "9"]
    assert run([*command, "--format", "json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert run([*command, "--format", "csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert run(command) == 0
    text = capsys.readouterr().out
    words = [word["word"] for word in document["words"]]
    assert document["schema"] == 1
    assert words == [row["word"] for row in rows] == ["sit", *words[1:-1], "shop"]
    assert all(word in text for word in words)
    for word, row in zip(document["words"][1:], rows[1:]):
        assert row["change"] == word["change"]["kind"]
        assert row["new_sound"] == word["change"]["to"]["sound"]
    assert f"{rows[-1]['old_grapheme']} becomes {rows[-1]['new_grapheme']}" in text
