"""A compiled lexicon that is damaged is said to be: never a traceback, never another answer."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.errors import UserError
from decodecheck.lexicon import child_words, lookup, predict, store
from decodecheck.lexicon.meanings import Meanings
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.resources import compiled_folder

WORDS = ("bread", "making", "read", "yacht", "the", "zoo", "harbour", "aardvark")
DAMAGES = 100


def flipped(data: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(data))
    return data[:at] + bytes([data[at] ^ 1 << rng.randrange(8)]) + data[at + 1 :]


def cut_short(data: bytes, rng: random.Random) -> bytes:
    return data[: rng.randrange(len(data))]


def lengthened(data: bytes, rng: random.Random) -> bytes:
    return data + bytes(rng.randrange(1, 64))


def zeroed(data: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(data))
    return data[:at] + bytes(min(512, len(data) - at)) + data[at + 512 :]


def swapped(data: bytes, rng: random.Random) -> bytes:
    a, b = sorted(rng.sample(range(len(data)), 2)) if len(data) > 1 else (0, 0)
    return data[:a] + data[b : b + 1] + data[a + 1 : b] + data[a : a + 1] + data[b + 1 :]


KINDS: list[Callable[[bytes, random.Random], bytes]] = [flipped, cut_short, lengthened, zeroed, swapped]


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("lexicon") / "compiled"
    shutil.copytree(compiled_folder(), folder)
    return folder


def answers(folder: Path) -> list[object]:
    """What both lexicons and both models say of some words."""
    tables = store.Tables(folder)
    said: list[object] = []
    for name in ("british", "american"):
        lexicon = store.Lexicon(tables, name)
        said += [lexicon.readings(word) for word in WORDS]
        said += [child_words.listed_evidence(tables, word) for word in WORDS]
        said.append(predict.load(folder / f"{name}.ngrams").best("zofkin"))
    columns = (f"{accent}_{name}" for accent in ACCENTS for name in ("alike", "said"))
    said += [bytes(tables.column(name)) for name in columns]
    said.append(store.read_whole(folder / store.MEASURED))
    known = Meanings(tables)
    senses = [sense for word in WORDS for sense in known.senses(word)]
    said += senses
    return said + [
        ask(s.set) for s in senses for ask in (known.words, known.wider, known.near, known.narrower, known.category)
    ]


# The source: what is promised of a damaged file. Every file of the folder is damaged at least once.
def test_no_damage_goes_unsaid(copy: Path) -> None:
    rng = random.Random(20)
    right = answers(copy)
    names = sorted(p.name for p in copy.iterdir())
    assert len(names) <= DAMAGES
    for number in range(DAMAGES):
        path = copy / names[number % len(names)]
        whole = path.read_bytes()
        damage = rng.choice(KINDS)
        data = damage(whole, rng)
        path.write_bytes(data)
        try:
            assert answers(copy) == right, (path.name, damage.__name__)
            # white space in the list of checksums is the one thing that means nothing
            assert data == whole or path.name in (store.CHECKSUMS, "NOTICE.md"), (path.name, damage.__name__)
        except UserError as error:
            assert "The compiled lexicon is" in str(error), (path.name, damage.__name__)
        finally:
            path.write_bytes(whole)
    assert answers(copy) == right


@pytest.fixture
def broken(copy: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    for module in (store, lookup):
        monkeypatch.setattr(module, "compiled_folder", lambda: copy)
    caches = (store.tables, store.lexicon, lookup._model)
    for cache in caches:
        cache.cache_clear()
    yield copy
    monkeypatch.undo()
    for cache in caches:
        cache.cache_clear()


@pytest.mark.parametrize("name", ["meta.json", "checksums.json", "words.bin", "british_units.bin", "british.ngrams"])
@pytest.mark.parametrize("missing", [False, True])
def test_the_command_says_so_and_ends_with_2(
    broken: Path, name: str, missing: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    path = broken / name
    whole = path.read_bytes()
    path.unlink() if missing else path.write_bytes(whole[:-9] + bytes(9))
    try:
        code = run(["explain", "bread", "zofkin"])
    finally:
        path.write_bytes(whole)
    said = capsys.readouterr()
    assert code == 2
    assert said.err.startswith("compiled lexicon: The compiled lexicon is ") and said.err.count("\n") == 2
