"""The page in a real browser: Debian's Chromium, driven by Playwright.

Without a Chromium these tests are skipped, unless DECODECHECK_BROWSER=required says that there has to be one, as CI does.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect, sync_playwright
from pypdfium2 import PdfDocument

from tests.web.asking import HARBOUR, STORY, served

REQUIRED = os.environ.get("DECODECHECK_BROWSER") == "required"
CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
OPTIONS = [
    "--no-sandbox", "--headless", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
AXE = Path(__file__).parents[1] / "data" / "axe" / "axe.min.js"
PHONE, DESK = {"width": 360, "height": 740}, {"width": 1280, "height": 900}
MOST = 5000
"""Milliseconds that anything may take to appear."""

pytestmark = pytest.mark.skipif(
    not REQUIRED and not Path(CHROMIUM).exists(), reason="no Chromium here (apt-get install chromium)"
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        yield running
        running.close()


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served() as base:
        yield base


@pytest.fixture
def page(browser: Browser, address: str) -> Iterator[Page]:
    yield from opened(browser, address, DESK)


@pytest.fixture
def phone(browser: Browser, address: str) -> Iterator[Page]:
    yield from opened(browser, address, PHONE)


def opened(browser: Browser, address: str, size: dict[str, int]) -> Iterator[Page]:
    """A page that has loaded nothing from elsewhere, and of which nothing was refused, at its end."""
    context = browser.new_context(viewport={"width": size["width"], "height": size["height"]}, has_touch=size is PHONE)
    context.set_default_timeout(MOST)
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    new = context.new_page()
    faults: list[str] = []
    elsewhere: list[str] = []
    new.on("pageerror", lambda error: faults.append(str(error)))
    new.on("console", lambda told: faults.append(told.text) if "Content Security Policy" in told.text else None)
    new.on("request", lambda request: None if request.url.startswith(address) else elsewhere.append(request.url))
    new.goto(address)
    yield new
    assert not faults and not elsewhere
    context.close()


def school(page: Page) -> None:
    """The demo's order, at step 22."""
    page.set_input_files("#order-file", {"name": "h.progression", "mimeType": "text/plain", "buffer": HARBOUR.encode()})
    expect(page.locator("#at")).to_have_attribute("max", "27")
    page.locator("#own-order summary").click()
    page.fill("#at", "22")


def write(page: Page, text: str) -> None:
    page.fill("#text", text)
    expect(page.locator("#lead .first")).to_be_visible()


def word(page: Page, name: str) -> Locator:
    return page.locator(f'#story [data-word="{name}"]')


def no_violation(page: Page) -> None:
    """axe-core's rules on what can be seen now."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run().then((r) => r.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html)}`))")
    assert found == []


def test_paste_slide_and_light_up(page: Page) -> None:
    school(page)
    page.evaluate("text => navigator.clipboard.writeText(text)", STORY)
    page.locator("#text").focus()
    page.keyboard.press("Control+V")
    expect(word(page, "bread")).to_have_text("bread")
    expect(page.locator("#lead")).to_contain_text("At step 22, 7 of 149 words are not yet decodable")
    page.locator("#at").focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#step-said")).to_have_text("step 23 of 27")
    expect(page.locator("#lead")).to_contain_text("At step 23, 5 of 149 words")
    expect(word(page, "grow")).to_have_count(0)
    expect(page.locator("#at")).to_be_focused()
    light = page.locator(".light", has_text="ea as in head")
    light.click()
    expect(light).to_have_attribute("aria-pressed", "true")
    assert page.locator(".word.lit").all_text_contents() == ["bread"]
    light.click()
    expect(page.locator(".word.lit")).to_have_count(0)


def test_drop_files(page: Page) -> None:
    drop = """([name, text]) => {
        const files = new DataTransfer();
        files.items.add(new File([text], name));
        document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: files, bubbles: true, cancelable: true }));
    }"""
    page.evaluate(drop, ["h.progression", HARBOUR])
    expect(page.locator("#at")).to_have_attribute("max", "27")
    page.evaluate(drop, ["bake.txt", STORY])
    expect(page.locator("#story")).to_contain_text("It was bake day on the jetty.")
    expect(page.locator("#editor")).to_be_hidden()
    page.evaluate(drop, ["wrong.progression", "step 1\n  taech s\n"])
    expect(page.locator("#standing .problem")).to_contain_text("your order, line 2")
    page.evaluate(drop, ["photo.png", "PNG\0"])
    expect(page.locator("#problems")).to_contain_text("photo.png")


def test_replace_settle_allow_and_undo(page: Page) -> None:
    school(page)
    write(page, "Zog had bread. See the bread in the wind.")
    word(page, "bread").first.click()
    expect(page.locator("#card")).to_contain_text("The letters ea say /e/ here")
    expect(page.locator("#card-title")).to_be_focused()
    page.fill("#instead", "ham")
    page.keyboard.press("Enter")
    expect(page.locator("#text")).to_have_value("Zog had ham. See the bread in the wind.")
    expect(word(page, "bread")).to_have_count(1)
    expect(word(page, "bread")).to_be_focused()
    page.click("#undo")
    expect(page.locator("#text")).to_have_value("Zog had bread. See the bread in the wind.")
    expect(word(page, "bread")).to_have_count(2)
    word(page, "bread").first.click()
    page.locator("#card .each-time").check()
    page.fill("#instead", "ham")
    page.get_by_role("button", name="Put it in").click()
    expect(page.locator("#text")).to_have_value("Zog had ham. See the ham in the wind.")
    expect(word(page, "zog")).to_be_visible()
    word(page, "zog").click()
    page.click('[data-line="allow names Zog"]')
    expect(word(page, "zog")).to_have_count(0)
    expect(page.locator("#added")).to_have_value("allow names Zog")
    # a word that is not marked can be touched, too, and a sense settled
    place = page.evaluate(
        """() => { const text = document.querySelector("#story p").lastChild, at = document.createRange();
                   at.setStart(text, text.data.indexOf("wind") + 1); at.setEnd(text, text.data.indexOf("wind") + 2);
                   const box = at.getBoundingClientRect(); return [box.x + 2, box.y + box.height / 2]; }"""
    )
    page.mouse.click(*place)
    page.click('#card [data-sense="turn"]')
    expect(page.locator("#settled")).to_contain_text("wind: turn (time 1)")
    page.locator("#at").fill("14")
    expect(word(page, "wind")).to_be_visible()
    page.click('#settled [data-do="unsettle"]')
    expect(word(page, "wind")).to_have_count(0)


def test_what_was_said_of_a_word_is_taken_back(page: Page) -> None:
    """Undo takes back a name that was allowed and a sense that was settled, and leaves the text."""
    school(page)
    text = "Zog felt the wind."
    write(page, text)
    word(page, "zog").click()
    page.click('[data-line="allow names Zog"]')
    expect(word(page, "zog")).to_have_count(0)
    page.click("#undo")
    expect(page.locator("#added")).to_have_value("")
    expect(word(page, "zog")).to_be_visible()
    expect(page.locator("#text")).to_have_value(text)
    page.fill("#any-word", "wind")
    place = page.evaluate(
        """() => { const text = document.querySelector("#story p").lastChild, at = document.createRange();
                   at.setStart(text, text.data.indexOf("wind") + 1); at.setEnd(text, text.data.indexOf("wind") + 2);
                   const box = at.getBoundingClientRect(); return [box.x + 2, box.y + box.height / 2]; }"""
    )
    page.mouse.click(*place)
    page.click('#card [data-sense="turn"]')
    expect(page.locator("#settled li")).to_have_count(1)
    page.click("#undo")
    expect(page.locator("#settled li")).to_have_count(0)
    expect(page.locator("#text")).to_have_value(text)


PLAN = 'Week,Sounds,Tricky words\n1,"p, e, n, t",the\n2,"i, d, s",\n'


def test_a_sheet_becomes_the_order(page: Page) -> None:
    page.set_input_files("#order-file", {"name": "plan.csv", "mimeType": "text/csv", "buffer": PLAN.encode()})
    expect(page.locator("#at")).to_have_attribute("max", "2")
    expect(page.locator("#own")).to_have_value(re.compile("step 1.*teach p, e, n, t.*tricky the.*step 2", re.DOTALL))
    wrong = PLAN.replace("p, e", "zz9, e").encode()
    page.set_input_files("#order-file", {"name": "plan.csv", "mimeType": "text/csv", "buffer": wrong})
    expect(page.locator("#standing .problem")).to_contain_text("plan.csv, cell B2")


def test_a_proposal_takes_the_place_of_a_word_with_its_article(page: Page) -> None:
    school(page)
    write(page, "Tilda had a yacht. Omar had a tale.")
    word(page, "yacht").click()
    page.click('#card [data-with="boat"]')
    expect(page.locator("#text")).to_have_value("Tilda had a boat. Omar had a tale.")
    expect(page.locator("#told")).to_have_text("“yacht” is now “boat”. Undo takes it back.")
    page.click("#undo")
    expect(page.locator("#text")).to_have_value("Tilda had a yacht. Omar had a tale.")


def test_by_keyboard_alone(page: Page) -> None:
    school(page)
    write(page, STORY)
    page.locator("#edit").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#editor")).to_be_hidden()
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate('document.activeElement.matches(".word")'):
            break
    expect(word(page, "biscuit")).to_be_focused()
    expect(page.locator("#card")).to_contain_text("biscuit")
    page.keyboard.press("ArrowRight")
    expect(word(page, "bread")).to_be_focused()
    expect(page.locator("#card-title")).to_contain_text("bread")
    page.keyboard.press("Enter")
    expect(page.locator("#card-title")).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.locator("#card")).to_be_hidden()
    expect(word(page, "bread")).to_be_focused()
    page.locator("#any-word").fill("making")
    page.keyboard.press("Enter")
    expect(page.locator("#card")).to_contain_text("making")
    page.keyboard.press("Escape")
    page.locator("nav a").nth(1).focus()
    page.keyboard.press("Enter")
    page.locator("#words").fill("window, cat")
    page.locator('button[value="own"]').press("Enter")
    expect(page.locator("#listed tbody tr").first).to_contain_text("cat")


def test_words_and_their_sheet(page: Page) -> None:
    school(page)
    page.fill("#at", "23")
    page.locator("nav a").nth(1).click()
    page.fill("#with", "ow as in grow")
    page.locator("#with").press("Enter")
    expect(page.locator("#listed tbody tr")).to_have_count(12)
    page.fill("#at", "22")
    expect(page.locator("#listed .problem")).to_contain_text("is taught at step 23")
    page.fill("#at", "23")
    expect(page.locator("#listed tbody tr")).to_have_count(12)
    first = page.locator("#listed [name=keep]").first
    left_out = first.get_attribute("value") or ""
    first.uncheck()
    no_violation(page)
    with page.context.expect_page() as made:
        page.get_by_role("button", name="Sheet to print").click()
    sheet = made.value
    expect(sheet.locator(".cards td:not(:empty)")).to_have_count(11)
    assert left_out not in sheet.locator(".cards").inner_text().split()
    # its own styles are let in by the policy
    assert sheet.evaluate('getComputedStyle(document.querySelector(".cards")).tableLayout') == "fixed"
    assert float(sheet.evaluate('parseFloat(document.querySelector(".frame .boxes i").style.width)')) > 5
    no_violation(sheet)
    sheet.close()


def test_copy_save_half_page_and_print(page: Page, tmp_path: Path) -> None:
    school(page)
    write(page, STORY)
    page.click("#copy")
    assert page.evaluate("navigator.clipboard.readText()") == STORY
    for kind in ("txt", "docx"):
        with page.expect_download() as saved:
            page.click(f'button[value="{kind}"]')
        assert saved.value.suggested_filename == f"story.{kind}"
    with page.context.expect_page() as made:
        page.get_by_role("button", name="Half page for the adult").click()
    expect(made.value.locator("h1")).to_have_text("For the adult who listens: Bake Day")
    no_violation(made.value)
    made.value.close()
    data = page.pdf(format="A4")
    pdf = PdfDocument(data)
    printed = " ".join(" ".join(pdf[n].get_textpage().get_text_range() for n in range(len(pdf))).split())
    pdf.close()
    assert (
        "He says it needs jam" in printed
        and "ea as in head" in printed
        and "Words not yet decodable, by step" in printed
    )
    assert "Save .docx" not in printed and "Words that fit a lesson" not in printed and "Look up" not in printed


def test_every_view_keeps_to_the_rules_of_accessibility(page: Page) -> None:
    no_violation(page)
    school(page)
    no_violation(page)
    write(page, STORY + " Zog.")
    no_violation(page)
    page.click("#edit")
    page.locator("summary", has_text="A group").click()
    word(page, "zog").click()
    expect(page.locator("#card-title")).to_be_focused()
    page.locator(".light").first.click()
    page.locator("#practice-of summary").click()
    expect(page.locator("#practice tbody tr").first).to_be_visible()
    no_violation(page)
    page.locator("#own-order summary").click()
    page.fill("#own", "step 1\n  taech s")
    expect(page.locator("#standing .problem")).to_be_visible()
    no_violation(page)
    page.emulate_media(color_scheme="dark")
    no_violation(page)


def test_at_the_width_of_a_phone(phone: Page) -> None:
    def fits() -> None:
        assert phone.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]

    fits()
    school(phone)
    write(phone, STORY)
    phone.locator("#edit").tap()
    fits()
    bread = word(phone, "bread")
    bread.tap()
    card = phone.locator("#card")
    expect(card).to_contain_text("The letters ea say /e/ here")
    # what was touched is not hidden by what is told of it
    there, told = bread.bounding_box(), card.bounding_box()
    assert (
        there
        and told
        and there["y"] + there["height"] <= told["y"]
        and told["y"] + told["height"] <= PHONE["height"] + 1
    )
    no_violation(phone)
    fits()
    phone.keyboard.press("Escape")
    phone.locator("nav a").nth(1).tap()
    phone.locator('button[value="find"]').tap()
    expect(phone.locator("#listed tbody tr")).to_have_count(12)
    fits()
    no_violation(phone)


def test_a_long_text_is_marked_in_parts(page: Page) -> None:
    school(page)
    text = "\n\n".join([STORY.strip()] * 68)
    assert len(text.split()) > 10_000
    page.evaluate("text => { document.querySelector('#text').value = text; }", text)
    page.evaluate("document.querySelector('#text').dispatchEvent(new Event('input'))")
    expect(word(page, "bread").first).to_be_visible()
    # the last part comes after the first, then what stands beside; all of them make up the text
    expect(page.locator("#beside .panel").first).to_be_visible()
    expect(word(page, "bread")).to_have_count(68)
    shown = page.locator("#story").evaluate("story => story.textContent")
    assert re.sub(r"\s+", "", str(shown)) == re.sub(r"\s+", "", text)


def test_without_a_script(browser: Browser, address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    context.set_default_timeout(MOST)
    plain = context.new_page()
    plain.goto(address)
    plain.fill("#text", STORY)
    plain.get_by_role("button", name="Show what can be read").click()
    expect(plain.locator("#lead .first")).to_be_visible()
    expect(plain.locator("#beside")).to_contain_text("What stands in the way")
    expect(plain.locator("#text")).to_have_value(STORY)
    context.close()
