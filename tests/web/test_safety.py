"""Who may ask, what may be loaded, what is never opened or kept."""

import builtins
import io
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from starlette.datastructures import Headers

from decodecheck.checking.check import Checker
from decodecheck.errors import UserError
from decodecheck.web import desk as desk_module
from decodecheck.web.asked import Asked
from decodecheck.web.desk import Desk
from decodecheck.web.guard import HEADERS, POLICY, Guard, Hosts, host_name
from decodecheck.web.serve import serve
from decodecheck.web.teaching import MOST_KEPT, MOST_STANDINGS, Teaching, shipped_text
from tests.web.asking import SCHOOL, STORY, Page


@pytest.fixture(scope="module")
def page() -> Page:
    return Page()


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "localhost.evil.example:8321", "192.168.1.5", "", "127.0.0.1:x"]
)
def test_the_page_answers_under_no_other_name(page: Page, host: str) -> None:
    assert page.get("/", {"host": host}).status_code == 400


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.1:8321", "localhost:8321", "[::1]:8321", "LOCALHOST"])
def test_the_page_answers_under_its_own_names(page: Page, host: str) -> None:
    assert page.get("/", {"host": host}).status_code == 200


def test_where_it_is_open_to_the_network_it_answers_to_addresses_and_no_names_of_sites() -> None:
    hosts = Hosts("0.0.0.0")
    assert hosts.allow("192.168.1.5:8321") and hosts.allow("localhost") and hosts.allow("[fe80::1]:8321")
    assert not hosts.allow("evil.example:8321") and not hosts.local
    assert Hosts("127.0.0.1").local and Hosts("::1").local and Hosts("localhost").local
    assert [host_name(h) for h in ("[::1]:80", "[::1]", "a:1", "A", "a:b")] == ["::1", "::1", "a", "a", ""]


def test_every_answer_is_strict_about_what_may_be_loaded(page: Page) -> None:
    answers = [
        page.get("/"),
        page.get("/page.js"),
        page.get("/nowhere"),
        page.post("/marks", {**SCHOOL, "text": STORY}),
    ]
    answers += [page.get("/", {"host": "evil.example"}), page.post("/marks", {}), page.get("/", {"host": ""})]
    for answer in answers:
        for name, value in HEADERS.items():
            assert answer.headers[name] == value
    assert POLICY.startswith("default-src 'none'") and "unsafe" not in POLICY
    whole = page.post("/", {**SCHOOL, "text": STORY}).text
    assert not re.search(r"<script(?! src=\"/)|<style|\sstyle=|\son\w+=|https?://", whole)


def test_printed_pages_name_their_own_styles_and_let_no_other_in(page: Page) -> None:
    answer = page.post("/sheet", {**SCHOOL, "keep": ["cat", "tree"]})
    policy = answer.headers["content-security-policy"]
    assert "'unsafe-inline'" not in policy and "default-src 'none'" in policy
    distinct = {*re.findall(r' style="([^"]*)"', answer.text)}
    assert policy.count("sha256-") == len(distinct) + 1
    assert "<script" not in answer.text


def test_a_request_without_an_origin_may_not_come_from_another_site(page: Page) -> None:
    form = {"content-type": "application/x-www-form-urlencoded", "origin": ""}
    assert page.raw("/marks", b"text=A+cat", form).status_code == 403
    guard = Guard(page.app, Hosts())
    for site, status in (("cross-site", 403), ("same-site", 403), ("none", 403), ("same-origin", 0)):
        headers = Headers({"host": "127.0.0.1:8321", "sec-fetch-site": site})
        refused = guard.refused({"type": "http", "method": "POST", "scheme": "http"}, headers)
        assert (refused[0] if refused else 0) == status


def test_no_path_that_is_sent_is_opened(page: Page, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    secret = tmp_path / "secret.progression"
    secret.write_text("step 1\n  teach s\n", encoding="utf-8")
    (tmp_path / "decodecheck.toml").write_text("this is no configuration", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    page.post("/preview", {**SCHOOL, "text": STORY})  # everything that is loaded once
    page.post("/file", files={"file": ("a.txt", b"A cat.")})
    opened: list[str] = []
    monkeypatch.setattr(builtins, "open", _noting(opened, builtins.open))
    monkeypatch.setattr(io, "open", _noting(opened, io.open))
    monkeypatch.setattr(os, "open", _noting(opened, os.open))
    monkeypatch.setattr(os, "stat", _noting(opened, os.stat))
    monkeypatch.setattr(os, "lstat", _noting(opened, os.lstat))
    for name in (str(secret), "secret.progression", "../secret.progression", "decodecheck.toml"):
        assert page.post("/marks", {"order": name, "text": STORY}).status_code == 422
        included = page.post("/standing", {"order": "own", "own": f'include "{name}"\nstep 1\n  teach s\n'})
        assert included.status_code == 422 and "cannot include another file" in included.text
        added = page.post("/marks", {**SCHOOL, "text": STORY, "added": f'include "{name}"'})
        assert added.status_code == 422
        assert page.post("/file", files={"file": (f"{name}.txt", b"A cat sat.")}).json()["text"] == "A cat sat."
        page.post("/preview", {**SCHOOL, "text": f"{name} sat."})
    named = [path for path in opened if "secret" in path or path.endswith("decodecheck.toml")]
    assert not named


def _noting(opened: list[str], function):  # type: ignore[no-untyped-def]
    def noted(path, *rest, **more):  # type: ignore[no-untyped-def]
        opened.append(str(path))
        return function(path, *rest, **more)

    return noted


def test_files_that_come_are_kept_in_memory(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuses(*_: object, **__: object) -> None:
        raise AssertionError("a file was made")

    monkeypatch.setattr(tempfile, "NamedTemporaryFile", refuses)
    monkeypatch.setattr(tempfile, "TemporaryFile", refuses)
    monkeypatch.setattr(tempfile.SpooledTemporaryFile, "rollover", refuses)
    large = b"<p>A cat sat.</p><!--" + b" " * 5_000_000 + b"-->"
    assert page.post("/file", files={"file": ("large.html", large)}).json()["text"].startswith("A cat sat.")


def test_no_text_is_kept_or_written_to_a_log() -> None:
    code = (
        "import gc, sys, threading\n"
        "from tests.web.asking import SCHOOL, served, Page\n"
        "import httpx\n"
        "word = 'zyg' + 'ote' * 5\n"
        "with served() as base:\n"
        "    answer = httpx.post(base + '/marks', data={**SCHOOL, 'text': f'A {word} sat on bread.'}, headers={'origin': base})\n"
        "    assert answer.status_code == 200 and word in answer.text\n"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, env=env)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_an_order_that_the_person_names_who_starts_the_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "base.progression").write_text("step 1\n  teach s, a, t\n", encoding="utf-8")
    (tmp_path / "school.progression").write_text(
        'progression "Harbour Lane"\ninclude "base.progression"\n', encoding="utf-8"
    )
    monkeypatch.chdir(tmp_path)
    desk = Desk(Teaching("school.progression"))
    own = Page(desk=desk)
    assert ">Harbour Lane</option>" in own.get("/").text
    assert own.post("/marks", {"text": "Sat Zog.", "added": "allow names Zog"}).text.count("data-at") == 0
    # what she changes in her file holds from then on
    (tmp_path / "base.progression").write_text("step 1\n  teach s, a, t\nstep 2\n  teach p\n", encoding="utf-8")
    assert 'max="2"' in own.get("/").text
    (tmp_path / "wrong.progression").write_text("step 1\n  taech s\n", encoding="utf-8")
    with pytest.raises(UserError, match=r"wrong\.progression:2"):
        serve("127.0.0.1", None, "wrong.progression", print, browser=False)


def test_only_the_orders_that_ship_have_names() -> None:
    for name in Teaching().choices():
        assert "step 1" in shipped_text(name)
        assert Desk().standing(Asked(order=name)).step


def test_what_is_learnt_of_words_stays_within_bounds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(desk_module, "MOST_FORMS", 40)
    desk = Desk()
    order = desk.standing(Asked(order="everything")).order
    for number in range(20):
        words = " ".join(f"pan{chr(97 + number)}{chr(97 + at)}" for at in range(20))
        assert desk.check(Asked(f"{words} cat", order="everything")).counts["decodable"]
        held = [kept.vocabulary.forms for kept in order.remembered.values() if isinstance(kept, Checker)]
        assert sum(map(len, held)) < 100
    for number in range(2 * MOST_KEPT):
        desk.standing(Asked(order="everything", added=f"allow names Zo{chr(97 + number)}"))
    assert len(desk.teaching.kept) == MOST_KEPT
    for number in range(200):
        desk.standing(
            Asked(order="us-common-core-foundational-skills", step="2", group=f"{' ' * number}also tricky yacht")
        )
    standings = desk.teaching.order(Asked(order="us-common-core-foundational-skills")).remembered["standings"]
    assert isinstance(standings, dict) and len(standings) <= MOST_STANDINGS
