"""What the project says of the licences of its data, held against the sources' own words."""

import re
import tomllib
from importlib.metadata import distribution
from pathlib import Path

import pytest
from packaging.licenses import canonicalize_license_expression

from decodecheck.resources import compiled_folder

ROOT = Path(__file__).parents[1]
LICENCES = ROOT / "rules" / "licences"
TEXTS = {
    # a phrase from the beginning and one from the end of each text, as the licence's own page has them (from memory)
    "Apache-2.0": ("TERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION", "END OF TERMS AND CONDITIONS"),
    "BSD-2-Clause": ("Redistribution and use in source and binary forms", "EVEN IF ADVISED OF THE POSSIBILITY OF SUCH DAMAGE"),
    "CC-BY-3.0": ("Attribution 3.0 Unported", "8. Miscellaneous"),
    "CC-BY-SA-4.0": ("Attribution-ShareAlike 4.0 International Public", "Section 8 -- Interpretation"),
    "OGL-UK-3.0": ("Open Government Licence", "OGLv3.0 is Open Definition compliant"),
    "LicenseRef-WordNet-3.0": ("This software and database is being provided to you, the LICENSEE", "LICENSEE agrees to preserve same."),
    "LicenseRef-CCSS": ("All rights reserved.", "This is not a licence for every purpose"),
}  # fmt: skip


def words(text: str) -> str:
    return " ".join(text.split())


def text_of(licence: str) -> str:
    return (LICENCES / f"{licence.removeprefix('LicenseRef-')}.txt").read_text(encoding="utf-8")


def expression() -> str:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return str(project["license"])


def test_the_expression_names_every_licence_that_has_a_text() -> None:
    # source of the identifiers: the SPDX licence list, as the package `packaging` carries it
    assert canonicalize_license_expression(expression()) == expression()
    assert sorted(expression().split(" AND ")) == sorted(["MIT", *TEXTS])
    assert {p.stem for p in LICENCES.glob("*.txt")} == {name.removeprefix("LicenseRef-") for name in TEXTS}
    assert f"`{expression()}`" in (LICENCES / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("licence", TEXTS)
def test_each_text_is_whole(licence: str) -> None:
    text = words(text_of(licence))
    first, last = TEXTS[licence]
    assert 0 <= text.find(first) < text.find(last)


def test_the_apache_licence_is_that_of_others() -> None:
    # source: the copy in the package `packaging`, whose code is under it; what follows its end tells how to apply it
    (copy,) = [f for f in distribution("packaging").files or () if f.name == "LICENSE.APACHE"]
    theirs, ours = (
        words(t).partition("END OF TERMS AND CONDITIONS")
        for t in (copy.read_text(encoding="utf-8"), text_of("Apache-2.0"))
    )
    assert ours[0] == theirs[0]
    assert ours[1] == theirs[1] != ""


def test_every_source_of_wordfreq_is_credited() -> None:
    # source: the licence section of wordfreq's own documentation
    description = str(distribution("wordfreq").metadata.json["description"])
    section = description.partition("\n## License\n")[2].partition("\n## Citing wordfreq\n")[0]
    links = set(re.findall(r"<(https?://[^>]+)>", section))
    assert len(links) >= 9
    notice = (ROOT / "rules" / "frequency" / "NOTICE.md").read_text(encoding="utf-8")
    assert [link for link in sorted(links) if link not in notice] == []
    plain = words(notice.replace("*", ""))
    # its conditions: the authors of SUBTLEX are credited, and it remains clear that their lists are freely available
    assert "credit the SUBTLEX authors" in section
    assert "created by Marc Brysbaert and colleagues" in plain
    assert "SUBTLEX is freely available data." in plain
    for lists in re.findall(r"SUBTLEX-[A-Z]+", section):
        assert lists in notice


def test_the_dictionary_s_terms_stand_in_its_notice() -> None:
    # the second condition of CMU's terms asks for notice, conditions and disclaimer with every copy
    notice = words((ROOT / "rules" / "pronunciations" / "NOTICE.md").read_text(encoding="utf-8"))
    assert words(text_of("BSD-2-Clause")).partition("License ")[2] in notice


def test_the_overview_names_files_that_exist() -> None:
    overview = (LICENCES / "README.md").read_text(encoding="utf-8")
    table = [line.split("|") for line in overview.splitlines() if line.startswith("| ")][1:]
    assert {row[1].strip().removesuffix(" (of others)") for row in table[1:]} == {"MIT", *TEXTS}
    for row in table[1:]:
        for path in re.findall(r"`([^`]+)`", " ".join(row[2:])):
            assert (ROOT / path).exists() or (LICENCES / path).exists(), path


def test_each_shipped_standard_names_its_licence() -> None:
    folder = ROOT / "rules" / "progressions"
    england = words((folder / "england-national-curriculum.progression").read_text(encoding="utf-8").replace("#", ""))
    # the sentence that the licence itself asks for
    assert "ontains public sector information licensed under the Open Government Licence v3.0" in england
    america = (folder / "us-common-core-foundational-skills.progression").read_text(encoding="utf-8")
    assert "National Governors Association Center for" in america
    assert "(c) Copyright 2010" in america


def test_the_compiled_lexicon_keeps_its_notice() -> None:
    assert (compiled_folder() / "NOTICE.md").read_bytes() == (LICENCES / "compiled_NOTICE.md").read_bytes()
