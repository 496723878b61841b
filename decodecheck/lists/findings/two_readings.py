"""A word of a list can be read in two ways.

What it checks: heteronyms, spellings with several senses that differ in sound (read, wind, tear). Nothing around the word in a list tells which is meant.

Why it matters: a child who reads the other one is right, and is told otherwise.

Example: wind.

Instead: use another word, or say the sense.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every word with senses that differ in sound, unless decodecheck.toml settles which is meant."""
    for fact in examined.words:
        senses: dict[str, set[str]] = {}
        steps: dict[str, int] = {}
        for reading in fact.readings:
            if "PROPN" not in reading.pos:
                senses.setdefault(reading.sense, set()).add(examined.said(reading))
                step = examined.order.reading_step(reading)
                steps[reading.sense] = min(step, steps.get(reading.sense, step))
        if len(senses) < 2 or set.intersection(*senses.values()) or examined.settled(fact):
            continue
        by_sound: dict[str, list[str]] = {}
        for sense, said in senses.items():
            by_sound.setdefault(min(said), []).append(sense)
        ways = " or ".join(
            f"/{said}/ ({', '.join(own)})" if all(own) else f"/{said}/" for said, own in by_sound.items()
        )
        message = f"This word has two readings: {ways}."
        late = [sense for sense, step in steps.items() if step > fact.step]
        if late and len(late) < len(senses) and all(late):
            message += f" At step {fact.step} the reading ({', '.join(late)}) cannot be decoded yet."
        yield Told(fact, message, examined.or_instead(fact, "Say which one is meant, or use another word."))
