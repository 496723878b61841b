"""Every format of a check renders one shared set of findings; an independent parser reads them back.

The sources of what the parsers hold to stand beside each test.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import Any
from urllib.parse import unquote_to_bytes, urlsplit
from xml.etree import ElementTree

import jsonschema
import junitparser
import lxml.html
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Finding
from decodecheck.documents.document import Document, Place
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED
from decodecheck.printing import safe
from decodecheck.progression.resolve import resolve
from decodecheck.reports import check as formats
from decodecheck.reports.check import junit
from decodecheck.reports.check.markdown import escaped
from decodecheck.reports.step_chart import chart, not_yet
from decodecheck.reports.told import Fingerprints, in_lines
from decodecheck.reports.view import View
from decodecheck.resources import PACKAGE
from decodecheck.run import Run
from tests.data.folder import DATA
from tests.errors.test_printing import COMMAND, FORBIDDEN
from tests.reports.shared import FAILURES, PATHS, expected, rendered, reports

SCHEMAS = PACKAGE / "reports" / "check"


def schema(name: str) -> Any:
    return json.loads((SCHEMAS / name).read_text(encoding="utf-8"))


def same_place(found: dict[str, Any], place: Place) -> bool:
    return (found.get("line", 0), found["column"]) == (place.line, place.column) and found.get("place", {}) == {
        name: value
        for name in ("paragraph", "page", "chapter", "sheet", "cell")
        if (value := getattr(place, name))
    }  # fmt: skip


# Source: our own published schema, read by `jsonschema`; the JSON by Python's own parser (RFC 8259).
def test_json() -> None:
    document = json.loads(rendered("json"))
    jsonschema.Draft202012Validator(schema("check-1.schema.json")).validate(document)
    found = [(file["path"], f) for file in document["files"] for f in file["findings"]]
    assert [(path, f["kind"], f["word"], f["message"], f["remedy"]) for path, f in found] == [
        (e.report.path, e.finding.kind, e.finding.word, e.finding.message, e.finding.remedy) for e in expected()
    ]
    assert all(same_place(f, e.finding.place) for (_, f), e in zip(found, expected()))
    assert [f["path"] for f in document["failures"]] == [f.path for f in FAILURES]
    assert {b["cause"] for _, f in found for b in f["blockers"]} == {"never-taught", "untaught-double"}


# Source: JSON Lines (a JSON value a line, jsonlines.org, from memory), our own schema.
def test_jsonl() -> None:
    lines = [json.loads(line) for line in rendered("jsonl").removesuffix("\n").split("\n")]
    validator = jsonschema.Draft202012Validator(schema("check-lines-1.schema.json"))
    for line in lines:
        validator.validate(line)
    found = [line for line in lines if line["line_is"] == "finding"]
    whole = json.loads(rendered("json"))
    assert [{k: v for k, v in line.items() if k not in ("line_is", "path")} for line in found] == [
        f for file in whole["files"] for f in file["findings"]
    ]
    assert [line["path"] for line in found] == [e.report.path for e in expected()]
    files = [line for line in lines if line["line_is"] == "file"]
    assert [(f["path"], f["step"], f["counts"]) for f in files] == [
        (f["path"], f["step"], f["counts"]) for f in whole["files"]
    ]
    assert [line["path"] for line in lines if line["line_is"] == "failure"] == [f.path for f in FAILURES]
    assert lines[-1] == {"line_is": "run", "schema": 1, "files": 8, "findings": len(found), "failures": 2}


def test_the_schemas_agree() -> None:
    whole, lines = schema("check-1.schema.json")["$defs"], schema("check-lines-1.schema.json")["$defs"]
    for name in ("status", "place", "somewhere", "elsewhere", "step", "blocker"):
        assert whole[name] == lines[name]
    for name in ("finding", "word", "file", "failure"):
        in_line = lines[name]["properties"]
        beside = {k: v for k, v in whole[name]["properties"].items() if k not in ("findings", "words")}
        assert {k: v for k, v in in_line.items() if k in beside} == beside
        assert in_line.keys() - beside.keys() <= {"line_is", "path"}


def unescaped(text: str, *, of_a_property: bool) -> str:
    """As the runner reads it back: the escapes of a property and of a message, the percent sign last."""
    if of_a_property:
        text = text.replace("%3A", ":").replace("%2C", ",")
    return text.replace("%0D", "\r").replace("%0A", "\n").replace("%25", "%")


# Source: GitHub, "Workflow commands for GitHub Actions", and its toolkit's command.ts (both from memory).
def test_github() -> None:
    lines = rendered("github").removesuffix("\n").split("\n")
    commands = []
    for line in lines:
        match = re.fullmatch(r"::(error|warning|notice) ([^:]*)::(.*)", line)
        assert match, line
        properties = dict(part.split("=", 1) for part in match[2].split(","))
        assert not set("\r") & set(line)
        commands.append(
            (match[1], {k: unescaped(v, of_a_property=True) for k, v in properties.items()}, unescaped(match[3], of_a_property=False))
        )  # fmt: skip
    found, rest = commands[: len(expected())], commands[len(expected()) :]
    for (level, properties, text), (report, finding) in zip(found, expected(), strict=True):
        assert level == finding.severity
        assert not FORBIDDEN.search(re.sub("[\r\n]", "", text + "".join(properties.values())))
        signs = re.compile("[\ufffd#]")
        # what may not be printed is a sign; nothing else is lost
        assert signs.sub("", properties["file"]) == signs.sub(
            "", "".join(c if c in "\r\n" else safe(c) for c in report.path)
        )
        in_one_line = " ".join(finding.message.split())
        assert signs.sub("", safe(in_one_line)) in signs.sub("", text)
        place = finding.place
        if in_lines(place):
            assert (properties["line"], properties.get("col", str(place.column))) == (
                str(place.line),
                str(place.column),
            )
            assert ("endColumn" in properties) == (finding.end_place.line == place.line)
        else:
            assert "line" not in properties
            assert text.startswith(safe(place.words()))
    assert [level for level, _, _ in rest] == ["error", "error", "notice"]
    assert rest[-1][2] == f"8 files checked, {len(found)} findings, 2 not checked."


# Source: GitLab, "Code Quality report format" (from memory): which keys there have to be, the five severities.
def test_gitlab() -> None:
    items = json.loads(rendered("gitlab"))
    found, rest = items[: len(expected())], items[len(expected()) :]
    for item, (report, finding) in zip(found, expected(), strict=True):
        assert item.keys() == {"description", "check_name", "fingerprint", "severity", "location"}
        assert (item["check_name"], item["location"]["path"]) == (finding.kind, report.path)
        assert item["severity"] == {"error": "major", "warning": "minor"}[finding.severity]
        place = finding.place
        assert item["location"]["lines"]["begin"] == (place.line or 1)
        assert safe(" ".join(finding.message.split())) in item["description"]
        assert in_lines(place) or item["description"].startswith(safe(place.words()))
    assert [item["severity"] for item in rest] == ["blocker"] * 2
    assert len({item["fingerprint"] for item in items}) == len(items)


# Source: the schema of SARIF 2.1.0 by OASIS (tests/data/sarif), RFC 3986 on references, as `urllib` reads them.
def test_sarif() -> None:
    log = json.loads(rendered("sarif"))
    official = json.loads((DATA / "sarif" / "sarif-2.1.0-rtm.5.json").read_text(encoding="utf-8"))
    jsonschema.Draft4Validator(official).validate(log)
    (run,) = log["runs"]
    assert run["columnKind"] == "unicodeCodePoints"
    rules = run["tool"]["driver"]["rules"]
    for result, (report, finding) in zip(run["results"], expected(), strict=True):
        assert (result["ruleId"], result["level"]) == (finding.kind, finding.severity)
        assert rules[result["ruleIndex"]]["id"] == finding.kind
        assert result["properties"]["word"] == finding.word
        (location,) = result["locations"]
        physical = location["physicalLocation"]
        assert_leads_to(physical["artifactLocation"], report.path)
        place = finding.place
        if in_lines(place):
            region = physical["region"]
            start, end = (region["startLine"], region["startColumn"]), (region["endLine"], region["endColumn"])
            assert start == (place.line, place.column) and end == (finding.end_place.line, finding.end_place.column)
            lines = report.document.text.split("\n")
            if start[0] == end[0]:
                assert lines[start[0] - 1][start[1] - 1 : end[1] - 1] == region["snippet"]["text"] == finding.word
                assert physical["contextRegion"]["snippet"]["text"] == lines[start[0] - 1]
            assert "logicalLocations" not in location
        else:
            assert "region" not in physical
            assert location["logicalLocations"][0]["fullyQualifiedName"] == place.words()
            assert result["message"]["text"].startswith(safe(place.words()))
    (invocation,) = run["invocations"]
    assert invocation["executionSuccessful"] is False
    told = invocation["toolExecutionNotifications"]
    for notification, failure in zip(told, FAILURES, strict=True):
        assert_leads_to(notification["locations"][0]["physicalLocation"]["artifactLocation"], failure.path)
    assert told[1]["locations"][0]["physicalLocation"]["region"] == {"startLine": 3, "startColumn": 5}


def assert_leads_to(artifact: dict[str, str], path: str) -> None:
    """A relative reference: no scheme, no query, no fragment; decoded it is the bytes of the path."""
    parts = urlsplit(artifact["uri"])
    assert not (parts.scheme or parts.netloc or parts.query or parts.fragment)
    assert unquote_to_bytes(parts.path) == path.encode("utf-8", "surrogateescape")
    assert re.fullmatch(r"[A-Za-z0-9._~/%-]+", artifact["uri"])
    assert ("uriBaseId" in artifact) == (not path.startswith("../"))


# Source: junitparser, written by others, and XML 1.0 as expat reads it.
def test_junit() -> None:
    text = rendered("junit")
    suites = junitparser.JUnitXml.fromstring(text.encode("utf-8"))
    found = [(suite, case) for suite in suites for case in suite]
    number = len(expected())
    fine, *failed = found[number:]
    for (suite, case), (report, finding) in zip(found, expected()):
        assert suite.name == junit.FORBIDDEN.sub("\ufffd", report.path)
        (result,) = case.result
        assert type(result).__name__ == {"error": "Failure", "warning": "Skipped"}[finding.severity]
        assert result.type == finding.kind
        assert result.message == safe(" ".join(finding.message.split()))
        place = finding.place
        assert case.name.startswith(f"{safe(place.words())}, column {place.column}: ")
        assert ("line" in case._elem.attrib) == in_lines(place)
    assert (fine[0].name, fine[1].name, fine[1].is_passed) == ("fine.txt", "no findings", True)
    assert [case.result[0].type for _, case in failed] == ["not checked"] * 2
    before = [(s.tests, s.failures, s.errors, s.skipped) for s in suites]
    suites.update_statistics()  # type: ignore[no-untyped-call]
    assert before == [(s.tests, s.failures, s.errors, s.skipped) for s in suites]
    assert len(ElementTree.fromstring(text.encode("utf-8"))) == len(PATHS) + 1 + len(FAILURES)


# Source: as in tests/errors/test_printing.py.
@pytest.mark.parametrize("name", formats.names())
def test_no_format_prints_what_changes_a_terminal(name: str) -> None:
    if name in ("text", "html"):
        return  # these take reports on texts alone
    text = rendered(name)
    assert not FORBIDDEN.search(text)
    text.encode("utf-8")
    if name != "github":
        assert not COMMAND.search(text)
    assert "##[" not in text and "##vso[" not in text


def test_fingerprints_stay_while_lines_move() -> None:
    (report, *_) = reports()
    one, other = Fingerprints(), Fingerprints()
    twice = [f for f in report.findings if f.status == BLOCKED] * 2
    names = [one.of("a.txt", f) for f in twice]
    assert len(set(names)) == len(names)
    # the same findings, ten lines further down
    moved = [moved_down(f) for f in twice]
    assert [other.of("a.txt", f) for f in moved] == names
    assert Fingerprints().of("b.txt", twice[0]) != names[0]
    whole, divided = replace(twice[0], word="Bread"), replace(twice[0], word="bre-\n  ad")
    assert Fingerprints().of("a.txt", whole) == Fingerprints().of("a.txt", divided)


def moved_down(finding: Finding) -> Finding:
    return replace(finding, place=replace(finding.place, line=finding.place.line + 10), start=finding.start + 300)


# Source: the GitHub Flavored Markdown Spec as markdown-it-py reads it, with the links that it makes of bare addresses.
def test_markdown() -> None:
    parser = MarkdownIt("commonmark", {"html": True, "linkify": False}).enable("table")
    tables: list[list[list[str]]] = []
    headings: list[str] = []
    kind = ""
    for token in parser.parse(rendered("markdown")):
        if token.type == "table_open":
            tables.append([])
        elif token.type == "tr_open":
            tables[-1].append([])
        elif token.type in ("td_open", "th_open", "heading_open"):
            kind = token.type
        elif token.type == "inline":
            inside = token.children or []
            # words of the text make no markup of their own
            assert {t.type for t in inside} <= {"text", "html_inline", "text_special"}, token.content
            assert {t.content for t in inside if t.type == "html_inline"} <= {"<br>"}
            text = "".join("\n" if t.type == "html_inline" else t.content for t in inside)
            if kind == "heading_open":
                headings.append(text)
            elif tables and kind:
                tables[-1][-1].append(text)
            kind = ""
    summary, not_checked, *files = tables
    paths = [" ".join(safe(" ".join(path.split())).split()) for path in PATHS]
    assert [row[0] for row in summary[1:]] == paths
    assert [row[1:] for row in summary[1:]] == [["1", "9", "4", "13", "39"]] * len(PATHS)
    assert headings[0] == "7 of 8 files with something to mend; 2 could not be checked"
    assert headings[2:] == [f"{path}, step 1" for path in paths]
    rows = [row for table in files for row in table[1:]]
    for row, (_, finding) in zip(rows, expected(), strict=True):
        assert len(row) == 4
        assert row[1] == safe(finding.place.words())
        assert row[2] == safe(" ".join(finding.message.split()))
        assert row[3].split() == "\n".join(map(safe, finding.remedy.split("\n"))).split()
    assert [row[0] for row in not_checked[1:]] == [safe(" ".join(f.path.split())) for f in FAILURES]


@settings(max_examples=300, deadline=None)
@given(
    st.text(
        st.one_of(st.characters(exclude_categories=["Cs"]), st.sampled_from("\\`*_{}[]<>()#+-.!|~@&:$w/")), max_size=30
    )
)
def test_nothing_in_a_word_is_markup(text: str) -> None:
    parser = MarkdownIt("commonmark").enable("table")
    tokens = parser.parse(f"| a |\n| --- |\n| x{escaped(text)}x |\n")
    cells = [t for t in tokens if t.type == "inline"]
    assert len(cells) == 2
    assert "".join(t.content for t in cells[1].children or ()) == f"x{safe(' '.join(text.split()))}x"


def text_of(element: Any) -> str:
    """The text inside an element, with a line end for each `br`."""
    parts = [element.text or ""]
    for child in element:
        parts += ["\n" if child.tag == "br" else text_of(child), child.tail or ""]
    return "".join(parts)


def by_class(element: Any, name: str) -> list[Any]:
    return list(element.xpath(f".//*[contains(concat(' ', @class, ' '), ' {name} ')]"))


ELEMENTS = frozenset(
    ("html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "p", "table", "thead", "tbody", "tr", "th", "td", "a",
     "bdi", "b", "section", "dl", "div", "dt", "dd", "br", "span", "footer", "code")
)  # fmt: skip


# Source: HTML as lxml (libxml2) reads it; no element is made by a word or a path, and every character comes back.
def test_html_of_any_report() -> None:
    page = lxml.html.document_fromstring(rendered("html"))
    assert {e.tag for e in page.iter()} <= ELEMENTS
    assert page.xpath("//script | //*[@src] | //link | //*[starts-with(@href, 'http')]") == []
    rows = page.xpath("//table[@class='files']/tbody/tr")
    assert [text_of(row[0]) for row in rows] == [safe(path) for path in PATHS] + ["fine.txt"]
    assert [text_of(e) for e in page.xpath("//main/dl/div/dt")] == [safe(f.path) for f in FAILURES]
    sections = page.xpath("//section")
    assert [text_of(s.find("h2")) for s in sections] == [safe(path) for path in PATHS]
    entries = [entry for section in sections for entry in by_class(section, "entry")]
    for entry, (_, finding) in zip(entries, expected(), strict=True):
        (word,) = by_class(entry, "word")
        assert text_of(word) == safe(" ".join(finding.word.split()))
        assert text_of(by_class(entry, "where")[0]) == f"({safe(finding.place.words())})"
        assert (entry.find("dd").text or "").strip() == safe(" ".join(finding.message.split()))
        # backticks set what stands between them as code
        assert text_of(by_class(entry, "todo")[0]).replace("`", "") == "\n".join(
            map(safe, finding.remedy.split("\n"))
        ).replace("`", "")


TEXT = (
    "Bread & <b>bread</b> \x1b[31m\u202e said the yacht.\r\n\r\n"
    "{{ Jumped }} 🐴 “Zofka” bre-\n  ad. \tWh\u0308ere is ]]> &amp; the bl-\new light?\n\n"
)


def checked(text: str, path: str = "a.txt") -> TextReport:
    order, problems = resolve(
        'progression "Harbour Lane"\nstep 1\n  teach a, b, d, e, h, r, t, i, s\n  tricky the\nstep 3\n  teach igh, ai\nstep 4\n  teach p, -ed, ew\n', "x"
    )  # fmt: skip
    assert not problems
    return Checker(Judge(order, 1)).check(Document(path, text))


def test_html_of_a_text() -> None:
    report = checked(TEXT, PATHS[1])
    run = Run((report,), texts=1)
    page = lxml.html.document_fromstring("".join(formats.named("html").render(run, View())))
    lines = re.split("\r\n|\n", TEXT)
    shown = by_class(page, "line")
    assert [text_of(line[0]) for line in shown] == ["1", "3", "4", "5"]
    for mark in page.xpath("//sup"):
        mark.text = ""
    assert [text_of(line[1]) for line in shown] == [safe(line.replace("\t", " ")) for line in lines if line.strip()]
    # the letters that are marked are those of the findings
    marked = "".join(text_of(b) for line in shown for b in line[1].iter("b"))
    at: dict[int, str] = {}
    for finding in report.findings:
        if finding.status == BLOCKED:
            own = {i for b in finding.blockers for i in b.letters} or range(len(finding.word))
            at |= {finding.start + i: finding.word[i] for i in own}
    assert marked.replace("\u0308", "") == "".join(at[i] for i in sorted(at))
    # each place leads to its word
    for link in page.xpath("//dt//a"):
        (target,) = page.xpath(f"//*[@id='{link.get('href')[1:]}']")
        assert text_of(target)[:1].isalpha()
    assert len(page.xpath("//dt//a")) == len(report.findings)


def test_the_chart_tells_of_every_step() -> None:
    report = checked("The hat is light. Jumped again, and sat in the rain.\n")
    assert not_yet(report)[0] == (1, report.counts[BLOCKED])
    made = chart(report)
    assert made is not None
    # source: each step checked by itself
    for bar in made.bars:
        again = Checker(Judge(report.order, bar.step)).check(report.document)
        assert bar.words == again.counts[BLOCKED], bar.step
        assert bar.here == (bar.step == 1)
    heights = [bar.height / max(bar.words, 1) for bar in made.bars if bar.words]
    assert max(heights) - min(heights) < 0.1
    assert chart(checked("The red hat.")) is None
