"""Parts of speech from a trained spaCy pipeline, used only where a configuration names one."""

from __future__ import annotations

import json
import re
import site
import sysconfig
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from decodecheck.bounds import CONFIG
from decodecheck.errors import Problem, UserError

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.tokens import Doc

REACH = 400


def part_of_speech(tag: str) -> str:
    """A Penn Treebank tag (Marcus, Santorini and Marcinkiewicz 1993) as a part of speech of the context rules, "" for others."""
    if tag in ("VBD", "VBN", "NNP", "NNPS"):
        return {"VBD": "PAST", "VBN": "PART"}.get(tag, "PROPN")
    return next(
        (pos for head, pos in (("VB", "VERB"), ("NN", "NOUN"), ("JJ", "ADJ"), ("RB", "ADV")) if tag.startswith(head)),
        "",
    )


def tag_at(doc: Doc, start: int, end: int) -> str:
    """The part of speech of the token at doc.text[start:end]."""
    for token in doc:
        if token.idx <= start < token.idx + len(token.text) or start <= token.idx < end:
            return part_of_speech(token.tag_)
    return ""


def tagger(name: str) -> Callable[[str, int, int], str]:
    """A function that tags text[start:end] in its paragraph. Raises UserError where the pipeline is not installed."""
    nlp = _load(name)

    def tag(text: str, start: int, end: int) -> str:
        first = max(text.rfind("\n\n", 0, start) + 1, start - REACH, 0)
        last = text.find("\n\n", end)
        doc = nlp(text[first : min(last if last >= 0 else len(text), end + REACH)])
        return tag_at(doc, start - first, end - first)

    return tag


@cache
def _load(name: str) -> Language:
    found = installed_pipeline(name, module_folders())
    if found is None:
        what = f"There is no spaCy pipeline called {name!r} among the installed packages."
        todo = "Install one (python -m spacy download NAME) and write its name, or take `pipeline` out."
        raise UserError(Problem(CONFIG, what, todo))
    from spacy.util import load_model_from_init_py

    try:
        # by its place, not by its name: a module of that name in the current folder would be run instead
        return load_model_from_init_py(found / "__init__.py")
    except Exception as error:  # whatever a package of another version of spaCy, or a damaged one, leads to
        why = f"{type(error).__name__}: {error}".split("\n")[0]
        what = f"The spaCy pipeline {name!r} cannot be used ({why})."
        raise UserError(Problem(CONFIG, what, "Install it anew, or take `pipeline` out.")) from None


def module_folders() -> list[str]:
    """Where installed packages are: those of this Python and of the user, not the current folder or what a variable adds."""
    folders = [sysconfig.get_path("purelib"), sysconfig.get_path("platlib"), *site.getsitepackages()]
    if site.ENABLE_USER_SITE:
        folders.append(site.getusersitepackages())
    return list(dict.fromkeys(folders))


def installed_pipeline(name: str, folders: list[str]) -> Path | None:
    """The folder of an installed package that is a spaCy pipeline; None where no package of that name is one.

    A pipeline is a package with a `meta.json` that names its language and the version of spaCy it is made for (spaCy's
    documentation, "Saving & loading", data format).
    """
    if not re.fullmatch(r"[A-Za-z0-9_]+(?:[-.][A-Za-z0-9_]+)*", name):
        return None
    # a hundredth of a second to load
    from importlib.metadata import Distribution

    for distribution in Distribution.discover(name=name, path=folders):
        module = (distribution.metadata["Name"] or name).replace("-", "_")
        folder = Path(str(distribution.locate_file(module)))
        try:
            meta = json.loads((folder / "meta.json").read_text(encoding="utf-8"))
        except (OSError, ValueError):
            continue
        if isinstance(meta, dict) and {"lang", "name", "version", "spacy_version"} <= meta.keys():
            return folder
    return None
