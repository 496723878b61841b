"""Read `rules/overrides.tsv`: segmentations set by hand."""

from __future__ import annotations

from pathlib import Path

from decodecheck.lexicon.analysis import Analysis
from decodecheck.lexicon.letters import place_graphemes, spell
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import LEXICONS
from decodecheck.tables import read_table


def read_overrides(rules: Path) -> dict[str, dict[str, list[Analysis]]]:
    """Overrides by lexicon and word.

    Raises ValueError where a segmentation does not spell its word.
    """
    found: dict[str, dict[str, list[Analysis]]] = {lexicon: {} for lexicon in LEXICONS}
    for row in read_table(rules / "overrides.tsv"):
        pairs = [part.partition("|")[::2] for part in row["segmentation"].split(" ")]
        graphemes = [g for g, _ in pairs]
        if spell(graphemes) != row["word"]:
            raise ValueError(f"overrides.tsv: {row['segmentation']} does not spell {row['word']}")
        segments = []
        for (grapheme, codes), positions in zip(pairs, place_graphemes(graphemes)):
            sound = tuple(codes.split("+")) if codes else ()
            linked = sound[-1:] == ("~",)
            sound = sound[:-1] if linked else sound
            listed = inventory().get(grapheme, sound) is not None
            segments.append(Segment(grapheme, sound, linked, not listed, positions, False))
        analysis = Analysis(tuple(segments), 0)
        for lexicon in LEXICONS if row["accent"] == "both" else (row["accent"],):
            found[lexicon].setdefault(row["word"], []).append(analysis)
    return found
