"""What is kept from run to run: whole or not at all, whatever happens to it."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.project import kept as module
from decodecheck.project.kept import BESIDE, NAME, Kept, cache_folder


def test_a_value_comes_back(tmp_path: Path) -> None:
    kept = Kept(tmp_path / "new" / "folder")
    assert kept.get(b"a") is None
    kept.put(b"a", b"one")
    kept.put(b"b", b"")
    kept.put(b"a", b"two")
    assert (kept.get(b"a"), kept.get(b"b"), kept.get(b"c")) == (b"two", b"", None)
    kept.close()
    assert Kept(tmp_path / "new" / "folder").get(b"a") == b"two"


@pytest.mark.skipif(os.name != "posix", reason="modes of POSIX")
def test_nobody_else_can_read_it(tmp_path: Path) -> None:
    folder = tmp_path / "kept"
    before = os.umask(0)
    try:
        kept = Kept(folder)
        kept.put(b"a", b"one")
    finally:
        os.umask(before)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    files = list(folder.iterdir())
    assert len(files) >= 2
    assert {stat.S_IMODE(p.stat().st_mode) for p in files} == {0o600}


def test_one_that_others_could_read_is_closed_to_them(tmp_path: Path) -> None:
    (tmp_path / NAME).touch(0o644)
    Kept(tmp_path).put(b"a", b"one")
    assert stat.S_IMODE((tmp_path / NAME).stat().st_mode) == 0o600


def test_the_oldest_go_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept = Kept(tmp_path, most=10_000)
    clock = [1_000_000.0]
    monkeypatch.setattr(time, "time", lambda: clock[0])
    for number in range(12):
        clock[0] += 2 * module.DAY
        kept.put(b"%d" % number, bytes(1000))
        kept.get(b"0")
    left = [number for number in range(12) if kept.get(b"%d" % number) is not None]
    # the first was asked for again and again
    assert left == [0, *range(12 - len(left) + 1, 12)]
    assert 6 <= len(left) <= 9
    kept.put(b"large", bytes(9_000))
    assert kept.get(b"large") is None


def test_it_does_not_grow(tmp_path: Path) -> None:
    kept = Kept(tmp_path, most=200_000)
    for number in range(300):
        kept.put(b"%d" % number, os.urandom(10_000))
    assert kept.get(b"299") is not None
    kept.close()
    assert Kept(tmp_path).size() < 500_000


@pytest.mark.parametrize("damage", ["cut", "zeros", "noise", "text", "empty", "pages"])
def test_a_damaged_one_is_made_anew(damage: str, tmp_path: Path) -> None:
    kept = Kept(tmp_path)
    for number in range(200):
        kept.put(b"%d" % number, b"value %d " % number * 40)
    kept.close()
    path = tmp_path / NAME
    data = bytearray(path.read_bytes())
    if damage == "pages":
        for at in range(4096, len(data), 512):
            data[at] ^= 255
    path.write_bytes(
        {
            "cut": bytes(data[: len(data) // 2]),
            "zeros": bytes(len(data)),
            "noise": random.Random(1).randbytes(len(data)),
            "text": b"Tilda met Omar. " * 300,
            "empty": b"",
            "pages": bytes(data),
        }[damage]
    )
    again = Kept(tmp_path)
    for number in range(200):
        assert again.get(b"%d" % number) in (None, b"value %d " % number * 40)
    # whatever it was, it works again before long
    for _ in range(3):
        again.put(b"new", b"value")
    assert again.get(b"new") == b"value"


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 40_000), st.integers(1, 255)), min_size=1, max_size=30))
def test_no_damage_changes_a_value(tmp_path_factory: pytest.TempPathFactory, flips: list[tuple[int, int]]) -> None:
    folder = tmp_path_factory.mktemp("kept")
    kept = Kept(folder)
    values = {b"%d" % number: b"%d " % number * 300 for number in range(20)}
    for key, value in values.items():
        kept.put(key, value)
    kept.close()
    path = folder / NAME
    data = bytearray(path.read_bytes())
    for at, bits in flips:
        data[at % len(data)] ^= bits
    path.write_bytes(data)
    again = Kept(folder)
    assert all(again.get(key) in (None, value) for key, value in values.items())
    again.close()


def test_where_nothing_can_be_written_nothing_is_kept(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder", encoding="utf-8")
    (tmp_path / "taken" / NAME).mkdir(parents=True)
    for folder in (tmp_path / "file", tmp_path / "file" / "below", tmp_path / "taken", Path("a\0b"), None):
        kept = Kept(folder)
        kept.put(b"a", b"one")
        assert kept.get(b"a") is None
        kept.clear()
    assert (tmp_path / "file").read_text(encoding="utf-8") == "no folder"


def test_another_program_may_hold_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    Kept(tmp_path).put(b"a", b"one")
    monkeypatch.setattr(module, "PATIENCE", 0.05)
    other = sqlite3.connect(tmp_path / NAME, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    kept = Kept(tmp_path)
    kept.put(b"a", b"two")
    other.execute("ROLLBACK")
    other.close()
    # what could not be written is not there; what was there still is
    assert Kept(tmp_path).get(b"a") == b"one"


WRITER = """
import sys
from pathlib import Path
from decodecheck.project.kept import Kept
kept = Kept(Path(sys.argv[1]), most=300_000)
number = int(sys.argv[2])
print("ready", flush=True)
while True:
    number += 1
    key = b"%d" % (number % 40)
    kept.put(key, b"%d/" % number * 2000)
    found = kept.get(key)
    if found is not None and (len(set(found.split(b"/")[:-1])) != 1 or int(found.split(b"/")[0]) % 40 != number % 40):
        print("torn", flush=True)
"""


def test_processes_side_by_side_some_of_which_are_killed(tmp_path: Path) -> None:
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(tmp_path), str(n)], stdout=subprocess.PIPE)
        for n in range(3)
    ]
    for writer in writers:
        assert writer.stdout and writer.stdout.readline() == b"ready\n"
    kept = Kept(tmp_path)
    seen = 0
    end = time.monotonic() + 3
    while time.monotonic() < end:
        for number in range(40):
            found = kept.get(b"%d" % number)
            if found is not None:
                seen += 1
                (one,) = set(found.split(b"/")[:-1])
                assert int(one) % 40 == number
        if writers[0].poll() is None and time.monotonic() > end - 1.5:
            writers[0].send_signal(signal.SIGKILL)
    for writer in writers:
        writer.kill()
        assert writer.stdout and b"torn" not in writer.stdout.read()
        writer.stdout.close()
        writer.wait()
    assert seen > 20
    kept.put(b"after", b"all")
    assert Kept(tmp_path).get(b"after") == b"all"


def test_clear(tmp_path: Path) -> None:
    kept = Kept(tmp_path)
    kept.put(b"a", b"one")
    (tmp_path / "other").touch()
    assert kept.clear() > 0
    assert kept.get(b"a") is None or not kept.size()
    kept.close()
    kept.clear()
    assert not any((tmp_path / f"{NAME}{end}").exists() for end in BESIDE)
    assert (tmp_path / "other").exists()


# Sources: as in the docstring of cache_folder.
def test_the_folder_of_the_platform() -> None:
    assert cache_folder({"HOME": "/h"}, "linux") == Path("/h/.cache/decodecheck")
    assert cache_folder({"HOME": "/h", "XDG_CACHE_HOME": "/x"}, "linux") == Path("/x/decodecheck")
    # "all paths must be absolute; a relative one is to be ignored"
    assert cache_folder({"HOME": "/h", "XDG_CACHE_HOME": "x"}, "linux") == Path("/h/.cache/decodecheck")
    assert cache_folder({"HOME": "/h", "XDG_CACHE_HOME": "/x"}, "darwin") == Path("/h/Library/Caches/decodecheck")
    assert cache_folder({"USERPROFILE": "/u"}, "win32") == Path("/u/AppData/Local/decodecheck")
    assert cache_folder({}, "linux") is None
    assert cache_folder({"HOME": "/h", "DECODECHECK_CACHE": ""}, "linux") is None
    assert cache_folder({"HOME": "/h", "DECODECHECK_CACHE": "here"}, "linux") == Path("here")
