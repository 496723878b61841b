"""What the page answers: the marked text, what stands beside it, a word's card, lists and sheets."""

import io
import re
from html import unescape

import html5lib
import pytest
from docx import Document

from decodecheck.api import check_text
from decodecheck.insight.coverage import coverage
from decodecheck.insight.replacing import replacements
from decodecheck.judging.verdict import BLOCKED, UNSURE
from tests.web.asking import DEMO, HARBOUR, SCHOOL, STORY, Page


@pytest.fixture(scope="module")
def page() -> Page:
    return Page()


def read(fragment: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", "", fragment)).split())


def test_every_view_is_html_without_faults(page: Page) -> None:
    whole = [page.get("/"), page.post("/", {**SCHOOL, "text": STORY}), page.post("/", {**SCHOOL, "at": "23", "view": "find", "with": "ow as in grow"})]  # fmt: skip
    whole += [
        page.post("/", {**SCHOOL, "view": "own", "words": "tree, boat"}),
        page.post("/preview", {**SCHOOL, "text": STORY}),
    ]
    whole += [
        page.post("/sheet", {**SCHOOL, "keep": ["cat", "tree"]}),
        page.get("/nowhere"),
        page.post("/take", SCHOOL),
    ]
    for answer in whole:
        # the HTML standard's parser; it raises at the first fault
        html5lib.HTMLParser(strict=True).parse(answer.text)
    parts = [page.post("/marks", {**SCHOOL, "text": STORY}), page.post("/beside", {**SCHOOL, "text": STORY})]
    parts += [page.post("/practice", {**SCHOOL, "text": STORY})]
    parts += [
        page.post("/word", {**SCHOOL, "text": STORY, "start": "110"}),
        page.post("/words", {**SCHOOL, "view": "own", "words": "cat"}),
    ]
    parts += [page.post("/standing", {"order": "own", "own": "step 1\n taech a"}), page.post("/marks", SCHOOL)]
    for answer in parts:
        html5lib.HTMLParser(strict=True).parseFragment(answer.text)


def test_the_text_is_marked_as_a_check_marks_it(page: Page) -> None:
    marks = page.post("/marks", {**SCHOOL, "text": STORY}).text
    report = check_text(STORY, progression=DEMO / "harbour-lane.progression", step="22")
    told = {start: report.verdict(entry).status for start, _, entry in report.sites}
    assert {int(at) for at in re.findall(r'data-at="(\d+)"', marks)} == told.keys()
    assert set(told.values()) <= {BLOCKED, UNSURE}
    assert 'aria-label="bread, not yet decodable: ea">br<b>ea</b>d</button>' in marks
    # what leads is the step that the whole text fits; a number never stands without its words
    first = read(marks.partition("</p>")[0])
    assert first == "No step makes all of it readable: 2 different words can be read at none (biscuit and bread). Without biscuit and bread it would be step 26."  # fmt: skip
    assert (
        "At step 22, 7 of 149 words are not yet decodable: biscuit, bread, biggest, grow, nose, friend, saw."
        in read(marks)
    )
    story = marks.partition("data-story")[2]
    assert read(story.partition(">")[2]) == " ".join(STORY.split())


def test_a_text_that_can_be_read(page: Page) -> None:
    marks = page.post("/marks", {**SCHOOL, "at": "27", "text": "A cat sat."}).text
    assert "At step 27, all 3 words can be read." in read(marks) and "data-at" not in marks


def test_the_slider_and_the_address_name_steps(page: Page) -> None:
    at_five = page.post("/marks", {**SCHOOL, "at": "5", "text": STORY}).text
    assert "At step 5," in read(at_five)
    answer = page.get("/?order=us-common-core-foundational-skills&step=2")
    assert answer.status_code == 200 and "step 2 of 3: grade 1" in answer.text


def test_a_long_text_comes_in_parts_that_make_it_up(page: Page) -> None:
    text = "\n\n".join([STORY.strip()] * 240)
    shown, part, asked = "", "0", 0
    while part != "0" or not asked:
        answer = page.post("/marks", {**SCHOOL, "text": text, "part": part}).text
        shown += answer.partition("data-story")[2].partition(">")[2]
        found = re.search(r'data-following="(\d+)"', answer)
        assert found
        part, asked = found[1], asked + 1
    assert asked == 4
    assert read(shown) == " ".join(text.split())
    assert len(set(re.findall(r'data-at="(\d+)"', shown))) == 7 * 240


def test_what_stands_beside_the_text(page: Page) -> None:
    beside = page.post("/beside", {**SCHOOL, "text": STORY}).text
    assert 'data-words="bread">ea as in head</button>' in beside
    assert "From step 1: 117." in beside
    assert "What would help most at step 22" in beside and "teach -est" in read(beside)


def test_what_the_text_gives_practice_in(page: Page) -> None:
    found = page.post("/practice", {**SCHOOL, "text": STORY}).text
    covered = coverage(check_text(STORY, progression=DEMO / "harbour-lane.progression", step="22", every_word=True))
    held = next(held for held in covered.lessons if held.name == "a-e as in cake")
    row = next(row for row in re.findall("<tr>.*?</tr>", found) if read(row).startswith("a-e as in cake"))
    cells = [read(cell) for cell in re.findall("<t[hd].*?</t[hd]>", row)]
    assert cells[1:5] == [str(n) for n in (held.step, len(held.words), held.times, held.offered)]
    assert ", ".join(held.words[:3]) in found and "There is no agreed number" in found


def test_the_card_of_a_word(page: Page) -> None:
    card = page.post("/word", {**SCHOOL, "text": STORY, "start": str(STORY.index("bread") + 2)}).text
    assert '<tr class="to-come"><th scope="row"><b>ea</b></th><td>/e/</td><td>head</td>' in card
    assert "Use another word, or add tricky bread to a step of the progression" in read(card)
    fine = read(page.post("/word", {**SCHOOL, "text": STORY, "start": str(STORY.index("jetty"))}).text)
    assert "decodable" in fine and "It can be read from step" in fine
    alone = read(page.post("/word", {**SCHOOL, "word": "making"}).text)
    assert "a-e" in alone or "as in make" in alone or "make" in alone
    nowhere = page.post("/word", {**SCHOOL, "text": STORY, "start": str(len(STORY))})
    assert nowhere.status_code == 422 and "no word" in nowhere.text


def test_the_card_offers_what_replace_proposes(page: Page) -> None:
    text = "Tilda had a yacht on the jetty."
    card = page.post("/word", {**SCHOOL, "text": text, "start": str(text.index("yacht"))}).text
    report = check_text(text, progression=DEMO / "harbour-lane.progression", step="22")
    (told,) = replacements(report).words
    assert [unescape(w) for w in re.findall(r'data-with="([^"]+)"', card)] == [p.word for p in told.proposals]
    assert told.proposals and told.proposals[0].kind in card
    # what can be read, and a name, is offered nothing for
    assert "data-with" not in page.post("/word", {**SCHOOL, "text": text, "start": str(text.index("had"))}).text


def test_a_heteronym_is_settled_by_hand_here_or_each_time(page: Page) -> None:
    text = "They wind it. See the wind.\n\nThe wind blew."
    asked = {**SCHOOL, "text": text}
    third = str(text.rindex("wind"))

    def sense(settled: list[str], start: str) -> str:
        card = page.post("/word", {**asked, "sense": settled, "start": start}).text
        found = re.search(r'data-sense="(\w+)" aria-pressed="true"', card)
        return found[1] if found else ""

    assert sense([], third) == "air"
    assert sense(["wind|3|turn"], third) == "turn"
    assert sense(["wind|2|turn"], third) == "air"
    assert sense(["wind|0|turn"], third) == "turn"
    # the text is marked by it, too: at step 14 a breeze can be read, and turning comes later
    early = {**asked, "at": "14"}
    before = page.post("/marks", early).text
    after = page.post("/marks", {**early, "sense": ["wind|3|turn"]}).text
    assert f'data-at="{third}"' not in before and f'data-at="{third}"' in after


def test_names_and_readings_hold_for_the_text(page: Page) -> None:
    asked = {**SCHOOL, "text": "Zog sat. Niamh sat.", "at": "27"}
    assert page.post("/marks", asked).text.count("data-at") == 2
    added = "allow names Zog\nword Niamh = n + ia /iː/ + mh /v/"
    known = page.post("/marks", {**asked, "added": added}).text
    assert known.count("data-at") == 1 and 'data-word="niamh"' in known
    card = page.post("/word", {**asked, "start": "0"}).text
    assert 'data-line="allow names Zog"' in card and 'value="z + o + g"' in card
    wrong = page.post("/marks", {**asked, "added": "allow names Zog\nteach ow as in grow"})
    assert wrong.status_code == 422 and "added here, line 2" in wrong.text
    misread = page.post("/marks", {**asked, "added": "word Zog = z + q"})
    assert misread.status_code == 422 and "added here, line 1" in misread.text


def test_a_group_differs_from_its_class(page: Page) -> None:
    asked = {**SCHOOL, "text": "It can grow."}
    assert page.post("/marks", asked).text.count("data-at") == 1
    assert page.post("/marks", {**asked, "group": "also ow as in grow"}).text.count("data-at") == 0
    wrong = page.post("/marks", {**asked, "group": "also owl as in grow"})
    assert wrong.status_code == 422 and "<mark>" in wrong.text


def test_words_are_found_ordered_and_printed(page: Page) -> None:
    found = page.post("/words", {**SCHOOL, "at": "23", "with": "ow as in grow", "number": "5", "view": "find"}).text
    words = re.findall(r'name="keep" value="(\w+)"', found)
    assert len(words) == 5 and all("ow" in word for word in words)
    own = page.post("/words", {**SCHOOL, "words": "window, ox; a cat", "view": "own", "sort": "length"}).text
    assert re.findall(r'name="keep" value="(\w+)"', own) == ["a", "ox", "cat", "window"]
    sheet = page.post(
        "/sheet", {**SCHOOL, "at": "23", "keep": words, "parts": ["cards"], "title": "Week 9", "paper": "letter"}
    )
    assert "Week 9: word cards" in sheet.text and all(f"<td>{word}</td>" in sheet.text for word in words)
    as_word = page.post("/sheet", {**SCHOOL, "keep": ["cat"], "as": "docx"})
    assert "Words to dictate" in "\n".join(p.text for p in Document(io.BytesIO(as_word.content)).paragraphs)
    wrong = page.post("/words", {**SCHOOL, "with": "owl as in grow", "view": "find"})
    assert wrong.status_code == 422 and "Words with" in wrong.text


def test_the_half_page(page: Page) -> None:
    half = page.post("/preview", {**SCHOOL, "text": STORY}).text
    assert "For the adult who listens: Bake Day" in half and "Not taught yet; read these to the child:" in half


def test_the_text_is_taken_away(page: Page) -> None:
    text = "Bake day.\nNettle ate.\n\n“Nettle!” said Tilda."
    plain = page.post("/take", {**SCHOOL, "text": text, "as": "txt"})
    assert plain.content.decode() == text and 'filename="story.txt"' in plain.headers["content-disposition"]
    made = page.post("/take", {**SCHOOL, "text": text, "as": "docx"}).content
    assert [p.text for p in Document(io.BytesIO(made)).paragraphs] == [
        "Bake day.\nNettle ate.",
        "“Nettle!” said Tilda.",
    ]
    assert page.post("/file", files={"file": ("story.docx", made)}).json()["text"] == text


def test_files_of_every_kind_are_read(page: Page) -> None:
    converted = sorted((DEMO.parent / "tests" / "data" / "converted").glob("*.*"))
    seen = set()
    for path in converted:
        if path.suffix in (".docx", ".odt", ".epub", ".html", ".pdf", ".md") and path.suffix not in seen:
            answer = page.post("/file", files={"file": (path.name, path.read_bytes())})
            assert answer.status_code == 200 and answer.json()["text"].strip(), path
            seen.add(path.suffix)
    assert len(seen) >= 3
    stepped = page.post("/file", files={"file": ("a.md", b"---\ndecodecheck:\n  step: 14\n---\nThe tin hat.\n")}).json()
    assert stepped["text"] == "The tin hat."


def test_without_a_script_everything_is_on_one_page(page: Page) -> None:
    whole = page.post(
        "/", {"order": "own"}, {"file": ("bake.txt", STORY.encode()), "order_file": ("h.progression", HARBOUR.encode())}
    )
    assert whole.status_code == 200
    assert 'max="27"' in whole.text and "What stands in the way" in whole.text and "data-at" in whole.text
    assert "<script>" not in whole.text and " style=" not in whole.text


def test_each_grapheme_of_a_word_has_its_own_step(page: Page) -> None:
    """What stands in a combination that could be taught as one (old, ll) is not held back with it."""
    card = page.post("/word", {**SCHOOL, "at": "27", "word": "cold"}).text
    rows = dict(re.findall(r'<th scope="row">(?:<b>)?(\w+)(?:</b>)?</th>.*<td>([^<]*)</td></tr>', card))
    assert rows == {"c": "step 4", "o": "only at word end (step 24)", "l": "step 4", "d": "step 3"}


def test_a_word_without_a_reading_does_not_hold_up_the_others(page: Page) -> None:
    said = read(page.post("/words", {**SCHOOL, "view": "own", "words": "boat, shp, cat"}).text)
    assert "2 words of your own" in said and "b oa t" in said
    assert "Left out, since no reading is known of it: “shp”." in said
    assert page.post("/words", {**SCHOOL, "view": "own", "words": "shp"}).status_code == 422
