"""The step that a text in Markdown names in its front matter: `step: 9`, or `group: Limpets`."""

from __future__ import annotations

import re

from decodecheck.documents.notes import GROUP, STEP, Notes, mistake
from decodecheck.errors import UserError

LONGEST = 20_000
"""Characters of front matter that are read; the time of its reader grows, and nobody writes as many."""
_NAMES = re.compile(r"^[\"']?(?:step|group)[\"']?[ \t]*:", re.MULTILINE)


def take_front_matter(notes: Notes, content: str, line: int) -> None:
    """Follow front matter whose contents begin in a line of the file (counted from 0).

    Raises UserError for one that seems to name a step but cannot be read.
    """
    if not _NAMES.search(content):
        return
    source, starts = notes.source, notes.source.line_starts
    if len(content) > LONGEST:
        what = "This front matter is too long to be looked through for a step."
        raise UserError(mistake(source, starts[line], what, "Make it shorter, or say the step in a comment."))
    # not needed for other texts
    import yaml

    try:
        root = yaml.compose(content, Loader=yaml.SafeLoader)
    except (yaml.YAMLError, RecursionError) as error:
        mark = getattr(error, "problem_mark", None)
        at = starts[min(line + (mark.line if mark else 0), len(starts) - 1)] + (mark.column if mark else 0)
        what = "This front matter is not YAML from here on, so its step cannot be read."
        raise UserError(
            mistake(source, min(at, len(source.text)), what, "Mend it; a step is written: step: 9")
        ) from None
    for key, value in root.value if isinstance(root, yaml.MappingNode) else ():
        if not isinstance(key, yaml.ScalarNode) or key.value not in (STEP, GROUP):
            continue
        at = starts[line + value.start_mark.line] + value.start_mark.column
        if not isinstance(value, yaml.ScalarNode) or not value.value.strip() or value.value == "~":
            example = "step: 9" if key.value == STEP else "group: Limpets"
            what = f"`{key.value}` has no value that names a {key.value}."
            raise UserError(mistake(source, at, what, f"Write for instance: {example}"))
        # the text itself, behind a quotation mark
        at += value.style in ("'", '"')
        notes.names_step(" ".join(value.value.split()), at, group=key.value == GROUP)
