"""`decodecheck page`: what it says, where it is, how it ends."""

import os
import signal
import socket
import subprocess
import sys
from pathlib import Path

import httpx
import pytest

from decodecheck.cli.main import run

ROOT = Path(__file__).parents[2]
HARBOUR = ROOT / "corpora_demo" / "harbour-lane.progression"


def test_it_serves_until_it_is_stopped(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "decodecheck", "page", "--no-browser", "--progression", str(HARBOUR)]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env, cwd=tmp_path
    ) as running:
        try:
            assert running.stdout and running.stderr
            url = running.stdout.readline().removeprefix("The page is at ").strip()
            assert url.startswith("http://127.0.0.1:")
            assert "Ctrl-C ends it" in running.stdout.readline()
            # what connects early waits until the page answers
            answer = httpx.post(
                f"{url}marks",
                data={"text": "Tilda had bread.", "at": "22"},
                headers={"origin": url.rstrip("/")},
                timeout=30,
            )
            assert answer.status_code == 200 and 'data-word="bread"' in answer.text
            assert httpx.get(url, headers={"host": "evil.example"}, timeout=30).status_code == 400
            running.send_signal(signal.SIGINT)
            assert running.wait(20) == 0
            assert running.stdout.read() == "" and running.stderr.read() == ""
        finally:
            # whatever was not as it should be, nothing goes on for ever
            running.kill()
    assert list(tmp_path.iterdir()) == []


def test_a_port_that_is_taken(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        assert run(["page", "--no-browser", "--port", str(taken.getsockname()[1])]) == 2
    assert "Is it open there already?" in capsys.readouterr().err


@pytest.mark.parametrize("host", ["no.such.host.invalid", "256.1.1.1", ""])
def test_an_address_that_is_none(host: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["page", "--no-browser", "--host", host]) == 2
    assert "--host" in capsys.readouterr().err


def test_a_progression_with_mistakes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "p.progression").write_text("step 1\n  taech s\n", encoding="utf-8")
    assert run(["page", "--no-browser", "--progression", str(tmp_path / "p.progression")]) == 2
    assert "p.progression:2:3" in capsys.readouterr().err
