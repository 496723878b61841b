"""Whatever is sent, the answer says what is wrong and what to do, with the right status, and the page goes on."""

import asyncio
import re
import socket
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from decodecheck.checking.report import TextReport
from decodecheck.errors import TRACEBACK
from decodecheck.web.asked import Asked
from decodecheck.web.desk import Desk
from decodecheck.web.limits import LARGEST_REQUEST, LARGEST_UPLOAD, LONGEST_ORDER, LONGEST_TEXT, MOST_FIELDS
from decodecheck.web.worker import Busy, Worker
from tests.web.asking import BASE, HARBOUR, SCHOOL, STORY, Page, served


@pytest.fixture(scope="module")
def page() -> Page:
    return Page()


def test_an_empty_text(page: Page) -> None:
    for path in ("/marks", "/beside", "/preview", "/take", "/"):
        answer = page.post(path, {**SCHOOL, "text": " \n "})
        assert answer.status_code == 422, path
        assert "There is no text yet." in answer.text


def test_a_text_of_five_megabytes(page: Page) -> None:
    answer = page.post("/marks", {**SCHOOL, "text": "a cat sat. " * 480_000})
    assert answer.status_code == 413 and f"up to {LONGEST_TEXT:,}" in answer.text
    too_long = page.post("/file", files={"file": ("long.txt", b"a cat sat. " * (LONGEST_TEXT // 10))})
    assert too_long.status_code == 413 and "a chapter at a time" in too_long.text
    order = page.post("/standing", {"order": "own", "own": "# much\n" * LONGEST_ORDER})
    assert order.status_code == 413


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("photo.png", b"\x89PNG\r\n\x1a\n\0\0\0", "This is a picture (PNG)"),
        ("story.exe", b"MZ\0\0\x90\xff", "no plain text"),
        ("story.doc", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "older Office"),
        ("story.docx", b"PK\x03\x04 and no more", "damaged"),
        ("story.pdf", b"%PDF-1.7\n nothing more", "PDF"),
        ("story.txt", b"caf\xe9 au lait", "older Windows format"),
        ("empty.txt", b"", "no text in this file"),
        ("plan.csv", b"word\ncat\n", "no story"),
    ],
)
def test_a_file_that_holds_no_story(page: Page, name: str, data: bytes, said: str) -> None:
    answer = page.post("/file", files={"file": (name, data)})
    assert answer.status_code == 422
    assert said in answer.text and name in answer.text
    whole = page.post("/", SCHOOL, {"file": (name, data)})
    assert whole.status_code == 422 and said in whole.text


def test_an_unknown_step_or_order_in_the_address(page: Page) -> None:
    for path, said in (
        ("/?step=99", "There is no step"),
        ("/?step=x", "no step"),
        ("/?order=nowhere", "is no order here"),
        ("/?order=../../etc/passwd", "is no order here"),
    ):
        answer = page.get(path)
        assert answer.status_code == 404, path
        assert said in re.sub(r"<[^>]+>", "", answer.text).replace("`", "")
        assert "England" in answer.text  # the page itself is there, with an order to go on with
    assert page.post("/marks", {**SCHOOL, "at": "99", "text": STORY}).status_code == 422
    assert page.post("/marks", {**SCHOOL, "at": "x", "text": STORY}).status_code == 422


def test_an_order_with_mistakes_shows_each_at_its_line(page: Page) -> None:
    answer = page.post(
        "/standing", {"order": "own"}, {"order_file": ("s.progression", b"step 1\n  taech s\n  teach ow\n")}
    )
    assert answer.status_code == 422
    assert "2 mistakes in this order" in answer.text
    assert "your order, line 2" in answer.text and "<mark>taech</mark>" in answer.text
    assert "your order, line 3" in answer.text and "<mark>ow</mark>" in answer.text
    marks = page.post("/marks", {"order": "own", "own": "step 1\n  taech s\n", "text": STORY})
    assert marks.status_code == 422 and "your order, line 2" in marks.text
    none = page.post("/marks", {"order": "own", "own": "", "text": STORY})
    assert none.status_code == 422 and "no order of your own" in none.text
    word = page.post("/standing", {"order": "own"}, {"order_file": ("plan.docx", b"PK\x03\x04\0")})
    assert word.status_code == 422 and "a sheet (.xlsx, .csv)" in word.text


def test_another_site_posting_to_us(page: Page) -> None:
    for headers in ({"origin": "https://evil.example"}, {"origin": "null"}, {"origin": "http://127.0.0.1:9"}):
        answer = page.post("/marks", {**SCHOOL, "text": STORY}, headers=headers)
        assert answer.status_code == 403 and "Another site" in answer.text and "data-at" not in answer.text


def test_a_form_that_is_none(page: Page) -> None:
    kinds = [
        ("text/plain", b"hello"),
        ("application/json", b"{}"),
        ("multipart/form-data", b"--x\r\n"),
        ("multipart/form-data; boundary=x", b"--x\r\nContent-Disposition: form-data; name"),
        ("multipart/form-data; boundary=x; charset=idna", b"--x--\r\n"),
        ("application/x-www-form-urlencoded", b"a=1&" * (MOST_FIELDS + 2)),
    ]
    for kind, content in kinds:
        answer = page.raw("/marks", content, {"content-type": kind})
        assert answer.status_code == 400, kind
        assert "What was sent is" in answer.text
    assert page.raw("/marks", b"", {}).status_code == 400


def test_the_size_of_a_request_is_limited_before_it_is_read(page: Page) -> None:
    claimed = {"content-type": "multipart/form-data; boundary=x", "content-length": str(900_000_000)}
    assert page.raw("/marks", b"x", claimed).status_code == 413
    urlencoded = {"content-type": "application/x-www-form-urlencoded"}
    assert page.raw("/marks", b"a" * (LARGEST_REQUEST + 1), urlencoded).status_code == 413
    assert page.raw("/marks", b"x", {"content-length": "minus one"}).status_code == 413
    assert LARGEST_UPLOAD > LARGEST_REQUEST > 4 * LONGEST_TEXT


def test_what_takes_too_long_is_told(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    slow = Page(Worker(seconds=0.05))
    check = slow.desk.check

    def slowly(asked: Asked) -> TextReport:
        time.sleep(0.3)
        return check(asked)

    monkeypatch.setattr(slow.desk, "check", slowly)
    answer = slow.post("/marks", {**SCHOOL, "text": STORY})
    assert answer.status_code == 503 and "took too long" in answer.text
    monkeypatch.setattr(slow.desk, "check", check)
    time.sleep(0.3)
    slow.worker.seconds = 20
    assert slow.post("/marks", {**SCHOOL, "text": STORY}).status_code == 200


def test_too_many_at_a_time_are_sent_away() -> None:
    worker = Worker(most=2)

    async def crowd() -> list[object]:
        return await asyncio.gather(*(worker.check(lambda: time.sleep(0.05)) for _ in range(5)), return_exceptions=True)

    found = asyncio.run(crowd())
    assert sum(isinstance(one, Busy) for one in found) == 3
    asyncio.run(worker.check(lambda: None))
    worker.close()


def test_a_fault_of_the_program_is_told_as_such(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(asked: Asked) -> None:
        raise RuntimeError("secret words of the text")

    monkeypatch.delenv(TRACEBACK, raising=False)
    monkeypatch.setattr(page.desk, "check", fails)
    answer = page.post("/marks", {**SCHOOL, "text": STORY})
    assert answer.status_code == 500 and "The fault is the program" in answer.text and "secret" not in answer.text


def test_a_request_that_is_cut_off_leaves_the_page_alive(monkeypatch: pytest.MonkeyPatch) -> None:
    with served() as base:
        host, port = base.removeprefix("http://").split(":")
        with socket.create_connection((host, int(port))) as cut:
            cut.sendall(
                f"POST /marks HTTP/1.1\r\nHost: {host}:{port}\r\nOrigin: {base}\r\nContent-Length: 5000\r\n\r\nhalf".encode()
            )
        with socket.create_connection((host, int(port))) as garbage:
            garbage.sendall(b"\x16\x03\x01 this is no HTTP\r\n\r\n")
            assert b"400" in garbage.recv(100)
        with socket.create_connection((host, int(port))) as whole:
            whole.sendall(f"GET / HTTP/1.1\r\nHost: {host}:{port}\r\nConnection: close\r\n\r\n".encode())
            assert whole.recv(100).startswith(b"HTTP/1.1 200")


def test_a_request_that_stalls_is_given_up(page: Page) -> None:
    from decodecheck.web.guard import Guard, Hosts

    async def stalled() -> list[int]:
        statuses: list[int] = []

        async def receive() -> dict[str, object]:
            await asyncio.sleep(60)
            return {}

        async def send(message: dict[str, object]) -> None:
            if message["type"] == "http.response.start":
                statuses.append(int(str(message["status"])))

        guard = Guard(page.app, Hosts(), seconds=0.05)
        headers = [(b"host", b"127.0.0.1:8321"), (b"origin", BASE.encode()), (b"content-length", b"10")]
        scope = {"type": "http", "method": "POST", "scheme": "http", "path": "/marks", "headers": headers}
        await guard(scope, receive, send)  # type: ignore[arg-type]
        return statuses

    assert asyncio.run(stalled()) == [408]


def test_twenty_at_a_time_get_the_answers_that_one_gets() -> None:
    alone = Page()
    asked = [{**SCHOOL, "at": str(1 + n % 27), "text": STORY + f" Word number {n}."} for n in range(40)]
    expected = [alone.post("/marks", one).text for one in asked]
    together = Page(desk=Desk())
    with ThreadPoolExecutor(20) as many:
        found = list(many.map(lambda one: together.post("/marks", one).text, asked))
    assert found == expected


def test_characters_that_no_page_may_hold_are_blanks_when_they_come_back(page: Page) -> None:
    text = "A\x01cat\x9f sat\ufffe on \U0001ffffbread\x0c. \x00"
    whole = page.post("/", {**SCHOOL, "text": text, "own": HARBOUR + "# \x02"}).text
    assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\ufffe\U0001ffff]", whole)
    assert f'data-at="{text.index("bread")}"' in page.post("/marks", {**SCHOOL, "text": text}).text
