"""What applies to a file: keys of a configuration, the step that a text names itself, the command line; and what the exit code makes of it."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from decodecheck import reports
from decodecheck.cli.main import run
from decodecheck.over_texts import compare_texts
from decodecheck.project.list_files import Lists
from decodecheck.run import Run
from decodecheck.session import Session

PROGRESSION = """progression "Harbour Lane"
step 1
  teach a as in cat and about, i, n, p, s, t, h, o
step 2
  teach b, r, d, e, m, l, u, th
step 3
  teach a as in bath
"""
TOML = 'progression = "school.progression"\n'


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    write("school.progression", PROGRESSION)
    write("texts/story.txt", "A tin. A bed.\n")
    return tmp_path


def write(path: str, text: str) -> None:
    Path(path).parent.mkdir(parents=True, exist_ok=True)
    Path(path).write_text(text, encoding="utf-8")


def checked(*paths: str, **options: object) -> Run:
    return Session(**options).run(paths).whole()  # type: ignore[arg-type]


@pytest.mark.parametrize("way", ["{}", "./{}", "texts/../{}", "{whole}/{}"])
def test_a_table_fits_however_a_path_is_written(way: str, school: Path) -> None:
    tables = '[[texts]]\nfiles = "texts/s*.txt"\nstep = 1\n[[allow]]\nwords = ["BED"]\nfiles = "texts/story.txt"\n'
    write("decodecheck.toml", TOML + tables)
    run = checked(way.format("texts/story.txt", whole=school))
    [report] = run
    assert (report.step, [f.word for f in report.findings], report.allowed_here.total()) == (1, [], 1)


def step_of(path: str, **options: object) -> int:
    [report] = checked(path, **options).results
    return report.step


def test_a_pyproject_is_as_good_and_the_nearest_counts(school: Path) -> None:
    write("pyproject.toml", '[tool.decodecheck]\nprogression = "school.progression"\nstep = 1\n')
    assert step_of("texts/story.txt") == 1
    # a pyproject.toml of others is passed over, whatever is wrong with it
    write("texts/pyproject.toml", '[project]\nname = "decodecheck\n[tool.ruff]\nstep = 2\n')
    assert step_of("texts/story.txt") == 1
    write("texts/pyproject.toml", '[tool]\nruff = 3\n[tool.other]\ndecodecheck = "tool.decodecheck"\n')
    assert step_of("texts/story.txt") == 1
    write("texts/pyproject.toml", '[tool."decodecheck"]\nprogression = "../school.progression"\nstep = 2\n')
    assert step_of("texts/story.txt") == 2
    write("texts/pyproject.toml", 'tool = { decodecheck = { progression = "../school.progression", step = 3 } }\n')
    assert step_of("texts/story.txt") == 3
    Path("texts/pyproject.toml").write_bytes(b"[tool.decodecheck]\nstep = \xff\n")
    assert "older Windows format" in checked("texts/story.txt").failures[0].problem.what


def test_a_pyproject_binds_a_project_as_its_other_file_does(
    school: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    outside = tmp_path_factory.mktemp("outside") / "secret.txt"
    outside.write_text("A tin.\n", encoding="utf-8")
    write("pyproject.toml", "[tool.decodecheck]\n" + TOML)
    Path("texts/link.txt").symlink_to(outside)
    assert "leads out of the project" in checked("texts/link.txt").failures[0].problem.what
    # neither is one read that is elsewhere itself, nor is it passed over
    outside.write_text("[tool.decodecheck]\nstep = 1\n", encoding="utf-8")
    Path("texts/pyproject.toml").symlink_to(outside)
    assert "leads out of the project" in checked("texts/story.txt").failures[0].problem.what


def test_a_text_is_compared_at_the_step_that_it_names_itself_without_what_it_allows(school: Path) -> None:
    write("decodecheck.toml", TOML + "step = 3\n")
    write("texts/story.txt", "#! decodecheck: step 1\n#! decodecheck: allow pit\nA pit. A tin.\n")
    write("new.progression", PROGRESSION.replace("n, p, s, t, h, o", "p, s, t, h, o").replace("b, r", "n, b, r"))
    session = Session()
    [change] = compare_texts(session, "school.progression", "new.progression", "texts").changes
    assert change.old_step == 1
    write("texts/story.txt", "#! decodecheck: step 1\n#! decodecheck: allow tin\nA pit. A tin.\n")
    assert not compare_texts(session, "school.progression", "new.progression", "texts").changes
    write("texts/story.txt", "A pit. A tin.\n")
    assert not compare_texts(session, "school.progression", "new.progression", "texts").changes


# The source: the order that the guide promises. Command line, text, table, top of the file.
def test_who_says_the_step(school: Path) -> None:
    write(
        "decodecheck.toml", TOML + 'step = 3\n[groups]\nLimpets = "1"\n[[texts]]\nfiles = "texts/s-*.txt"\nstep = 2\n'
    )
    assert step_of("texts/story.txt") == 3
    write("texts/s-1.txt", "A tin.\n")
    assert step_of("texts/s-1.txt") == 2
    write("texts/s-1.txt", "#! decodecheck: step 1\nA tin.\n")
    assert step_of("texts/s-1.txt") == 1
    assert step_of("texts/s-1.txt", step="3") == 3
    write("texts/s-1.txt", "#! decodecheck: group Limpets\nA tin.\n")
    assert step_of("texts/s-1.txt") == 1
    assert step_of("texts/s-1.txt", step="2") == 2
    # a text that names its step needs no table
    write("decodecheck.toml", TOML + '[[texts]]\nfiles = "texts/s-*.txt"\nstep = 2\n')
    write("texts/story.md", "---\nstep: 1\n---\nA tin.\n")
    assert step_of("texts/story.md") == 1
    assert checked("texts/story.txt").failures
    assert Session().check_story("texts/story.md").step == 1


def test_the_accent_of_a_configuration_is_read_for_that_of_the_progression(school: Path) -> None:
    write("texts/story.txt", "A path.\n")
    write("decodecheck.toml", TOML + "step = 2\n")
    [southern] = checked("texts/story.txt").results
    write("decodecheck.toml", TOML + 'step = 2\naccent = "northern-english"\n')
    [northern] = checked("texts/story.txt").results
    # in the north of England path has the vowel of cat (J. C. Wells, Accents of English, 1982, section 4.4, from memory)
    assert (southern.errors, northern.errors, northern.order.accent) == (1, 0, "northern-english")


@pytest.mark.parametrize(
    ("keys", "code"),
    [
        ("", 1),
        ("allow_blocked = 1", 0),
        ("allow_blocked = 1\nstrict = true", 0),
        ("[severity]\nuntaught-correspondence = 'warning'", 0),
        ("strict = true\n[severity]\nuntaught-correspondence = 'warning'", 1),
        ("strict = true\n[severity]\nuntaught-correspondence = 'off'", 0),
        ("[[allow]]\nwords = ['bed']\nreason = 'his own'", 0),
        ("[[allow]]\nwords = ['bed']\nkind = 'untaught-correspondence'", 0),
        ("[[allow]]\nwords = ['bed']\nkind = 'untaught-ending'", 1),
        ("[[allow]]\nwords = ['bed']\nfiles = 'texts/other.txt'", 1),
        ("[[texts]]\nfiles = 'texts/*'\nallow_blocked = 1", 0),
        ("allow_blocked = 1\n[[texts]]\nfiles = 'texts/*'\nallow_blocked = 0", 1),
    ],
)
def test_what_passes(school: Path, keys: str, code: int) -> None:
    write("decodecheck.toml", f"{TOML}step = 1\n{keys}\n")
    assert run(["check", "texts/story.txt"]) == code


def test_a_warning_fails_in_a_strict_project_and_an_error_can_be_made_of_it(school: Path) -> None:
    write("texts/story.txt", "A plin.\n")
    for keys, code in (("", 0), ("strict = true", 1), ("[severity]\nunlisted-word = 'error'", 1)):
        write("decodecheck.toml", f"{TOML}{keys}\n")
        assert run(["check", "texts"]) == code
    assert run(["check", "texts", "--warn", "unlisted-word"]) == 0


def test_lists_are_treated_as_texts_are(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write("lists/week.csv", "word\ntin\nbed\nbed\n")
    table = '[[lists]]\nfiles = "lists/*.csv"\n'
    for keys, code, said in (
        (table, 1, "2 words not yet decodable"),
        (table + "allow_blocked = 2", 0, "Up to 2 words that cannot be read yet pass here (allow_blocked)."),
        (table + "allow_blocked = 1", 1, "Up to 1 word that cannot be read yet would pass here (allow_blocked); there are more."),
        ("[[allow]]\nwords = ['bed']\n", 0, "2 allowed here (1 different)."),
        ("strict = true\n[severity]\nrepeated-word = 'off'\n[[allow]]\nwords = ['bed']\n", 0, "2 allowed here"),
    ):  # fmt: skip
        write("decodecheck.toml", f"{TOML}step = 1\n{keys}\n")
        assert run(["check", "lists/week.csv"]) == code
        assert said in capsys.readouterr().out


def test_a_table_that_allows_nothing_is_named_where_all_of_its_files_were_seen(school: Path) -> None:
    write(
        "decodecheck.toml",
        TOML + "step = 1\n[[allow]]\nwords = ['bed', 'mud']\n[[allow]]\nwords = ['bed']\nfiles = 'x/*'\n",
    )
    assert [f.problem.what for f in checked(".").failures] == [
        "Nothing is told of “mud” in the files of this table, so this allows nothing.",
        "No file fits the pattern 'x/*', so this allows nothing.",
    ]
    assert not checked("texts").failures
    assert not checked("texts/story.txt").failures
    # at another step other words stand in the way; and of what was not read nobody knows
    assert [f.problem.what[:7] for f in checked(".", step="3").failures] == ["No file"]
    Path("texts/broken.txt").write_bytes(b"\xff\xff")
    assert [f.problem.what[:7] for f in checked(".").failures] == ["The mar", "No file"]


def test_another_step_makes_no_allowance_idle_and_takes_none_out(school: Path) -> None:
    story = "#! decodecheck: step 1\n#! decodecheck: allow bed\nA bed.\n"
    write("texts/story.txt", story)
    write("decodecheck.toml", TOML)
    write("other.progression", PROGRESSION)
    tried: list[dict[str, object]] = [{"step": "2"}, {"progression": "other.progression", "step": "2"}]
    for options in tried:
        [report] = checked("texts/story.txt", lists=Lists(fix=True), **options).results
        assert not report.findings and Path("texts/story.txt").read_text(encoding="utf-8") == story
    write("texts/story.txt", story.replace("step 1", "step 2"))
    [report] = checked("texts/story.txt").results
    assert [f.kind for f in report.findings] == ["idle-allowance"]
    [report] = checked("texts/story.txt", lists=Lists(fix=True)).results
    assert not report.findings
    assert Path("texts/story.txt").read_text(encoding="utf-8") == "#! decodecheck: step 2\nA bed.\n"
    # without a configuration, the step of the command is the text's own
    Path("decodecheck.toml").unlink()
    write("texts/story.txt", "#! decodecheck: allow bed\nA bed.\n")
    [report] = checked("texts/story.txt", progression="school.progression", step="2").results
    assert [f.kind for f in report.findings] == ["idle-allowance"]


def test_reports_for_programs_follow_their_schemas(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write("decodecheck.toml", TOML + "step = 1\nallow_blocked = 1\n")
    write(
        "texts/story.md",
        "<!-- decodecheck: allow bed -->\n<!-- decodecheck: allow tin -->\n\nA bed. A tin. A dim bed.\n",
    )
    folder = Path(reports.__file__).parent / "check"
    assert run(["check", "texts/story.md", "--format", "json", "--every-word"]) == 0
    told = json.loads(capsys.readouterr().out)
    jsonschema.validate(told, json.loads((folder / "check-1.schema.json").read_text(encoding="utf-8")))
    [file] = told["files"]
    assert (file["allowed_here"], file["allow_blocked"], file["counts"]["blocked"]) == (2, 1, 1)
    assert [(f["kind"], f["severity"], f["line"], f["column"], f["end_column"]) for f in file["findings"]] == [
        ("idle-allowance", "warning", 2, 1, 32), ("untaught-correspondence", "warning", 4, 17, 20)
    ]  # fmt: skip
    assert [w["status"] for w in file["words"] if w["word"] == "bed"] == ["allowed", "allowed"]
    run(["check", "texts/story.md", "--format", "jsonl"])
    schema = json.loads((folder / "check-lines-1.schema.json").read_text(encoding="utf-8"))
    for line in capsys.readouterr().out.splitlines():
        jsonschema.validate(json.loads(line), schema)
    for form in ("html", "sarif", "github", "gitlab", "junit", "markdown"):
        assert run(["check", "texts/story.md", "--format", form]) == 0
        assert "nothing is told of that word where it holds" in capsys.readouterr().out


def test_config_says_what_applies_and_where(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write("decodecheck.toml", TOML + 'accent = "scottish"\nexclude = ["texts/old"]\n[severity]\nunlisted-word = "off"\n[groups]\nLimpets = "2"\n'
          '[[texts]]\nfiles = "texts/step-{step}/*.txt"\nstrict = true\n[[allow]]\nwords = ["bed"]\nreason = "his own"\n')  # fmt: skip
    write("texts/step-1/a.txt", "A tin.\n")
    write("texts/old/b.md", "---\ngroup: Limpets\n---\n\nA tin. <!-- decodecheck: allow pan [untaught-ending] -->\n")
    assert run(["config", "texts/step-1/a.txt", "texts/old/b.md", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    schema = json.loads(Path(reports.__file__).with_name("config-1.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(told, schema)
    first, second = (
        {s["name"]: (s["value"], s.get("path"), s.get("line")) for s in file["settings"] if s["name"] != "allowed"}
        for file in told["files"]
    )
    assert first == {
        "checked as": ("text", None, None),
        "progression": ("school.progression", "decodecheck.toml", 1),
        "accent": ("scottish", "decodecheck.toml", 2),
        "step": ("1 of 3", "decodecheck.toml", 8),
        "strict": (True, "decodecheck.toml", 10),
        "allow_blocked": (0, None, None),
        "severity of unlisted-word": ("off", "decodecheck.toml", 5),
    }
    assert second["step"] == ("2 of 3", "texts/old/b.md", 2)
    assert second["group"] == ("Limpets", "texts/old/b.md", 2)
    assert second["left out of folders"] == ("by `exclude`", None, None)
    assert run(["config", "nothing.txt", "texts/old/b.md", "--format", "json"]) == 2
    told = json.loads(capsys.readouterr().out)
    jsonschema.validate(told, schema)
    assert [failure["path"] for failure in told["failures"]] == ["nothing.txt"]
    assert run(["config", "texts/old/b.md"]) == 0
    said = capsys.readouterr().out
    assert "bed: his own" in said and "decodecheck.toml:11" in said
    assert "pan [untaught-ending]" in said and "texts/old/b.md:5" in said
