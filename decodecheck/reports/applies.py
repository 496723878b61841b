"""What applies to a file, and where that is said: progression, step, accent, what is allowed, what fails; for programs as JSON, schema 1
(`config-1.schema.json` beside this file)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from decodecheck.bounds import real
from decodecheck.documents.notes import OwnStep
from decodecheck.errors import cut_path
from decodecheck.printing import columns, safe
from decodecheck.progression.step_expression import Standing, Wanted
from decodecheck.project.config import Config
from decodecheck.project.fitting import gates, list_rule, step_rule
from decodecheck.project.leaving_out import LeavingOut
from decodecheck.project.treating import allowed_by, refuse_unknown_kinds
from decodecheck.session import Session
from decodecheck.source import shown


@dataclass(frozen=True, slots=True)
class Setting:
    """One thing that applies: its name as a configuration has it, its value, and the file and line that say so ("" and 0 for what nobody says,
    or what no line says)."""

    name: str
    value: str | int | bool
    path: str = ""
    line: int = 0

    @property
    def where(self) -> str:
        """File and line."""
        return f"{self.path}:{self.line}" if self.line else self.path


def applies(session: Session, path: str) -> list[Setting]:
    """Everything that applies to a file. Raises UserError for what is wrong with it, or with what it is told by."""
    config = session.config(Path(path))
    file, line_of = (config.name, config.key_lines) if config else ("", {})
    is_list = session.is_list(path)
    document = session.document(path)
    rule = list_rule(config, Path(path)) if config else None
    found = [Setting("checked as", "word list" if is_list else "text", file if rule else "", rule.line if rule else 0)]
    standing, _ = session.settings(path, document.own_step)
    progression = standing.order.path
    found.append(Setting("progression", progression, file, line_of.get("progression", 0)))
    by_config = (file, line_of.get("accent", 0)) if config and config.accent else (progression, 0)
    found.append(Setting("accent", standing.order.accent, *by_config))
    found += _step(session, path, config, document.own_step, standing)
    found += _gates(config, path, is_list)
    if config and config.alt_text and not is_list:
        found.append(Setting("alt_text", True, file, line_of["alt_text"]))
    for kind, severity in sorted(config.severities.items()) if config else ():
        found.append(Setting(f"severity of {kind}", severity, file, line_of[f"severity.{kind}"]))
    for allowed, word in allowed_by(config, Path(path)) if config else ():
        found.append(Setting("allowed", _allowed(word, allowed.kind, allowed.reason), file, allowed.at))
    refuse_unknown_kinds(document.path, document.allowances)
    for a in document.allowances:
        what = _allowed(a.word, a.kind, a.reason)
        at = document.path if a.place.line else f"{document.path}, {a.place.words()}"
        found.append(Setting("allowed", what, at, a.place.line))
    by = LeavingOut().by_any(real(Path(path).parent) / Path(path).name)
    return [*found, *([Setting("left out of folders", f"by {by}")] if by else [])]


def _step(
    session: Session, path: str, config: Config | None, own: OwnStep | None, standing: Standing
) -> Iterator[Setting]:
    """The step, and the group that it is of."""
    wanted = session.wanted(path, config, own)
    said = own.wanted if own else wanted
    where, line = _place(path, config, said)
    if wanted and wanted.group:
        yield Setting("group", wanted.group, where, line)
    value = f"{standing.step} of {standing.order.last}" + (
        f" ({standing.order.variant})" if standing.order.variant else ""
    )
    yield Setting("step", value, where, line) if said else Setting("step", f"{value}, the last one")


def _place(path: str, config: Config | None, said: Wanted | None) -> tuple[str, int]:
    """Where a step is said: in the line of a file, or by the path that a table takes the number out of."""
    rule = step_rule(config, Path(path)) if config else None
    if said and not said.line and config and rule:
        return config.name, rule.line
    return (said.path, said.line) if said else ("", 0)


def _gates(config: Config | None, path: str, is_list: bool) -> Iterator[Setting]:
    """Whether warnings fail, and how many blocked words do not."""
    both = gates(config, Path(path), is_list=is_list) if config else ()
    for name in ("strict", "allow_blocked"):
        gate = next((gate for gate in both if getattr(gate, name) is not None), None)
        if gate and config:
            yield Setting(name, getattr(gate, name), config.name, gate.lines.get(name, 0))
        else:
            yield Setting(name, False if name == "strict" else 0)


def _allowed(word: str, kind: str, reason: str) -> str:
    return word + (f" [{kind}]" if kind else "") + (f": {reason}" if reason else "")


def as_text(path: str, settings: list[Setting]) -> Iterator[str]:
    """The settings of a file in lines, each with where it is said."""
    yield cut_path(safe(shown(path)))
    rows = [(safe(s.name), safe(_value(s.value)), safe(s.where)) for s in settings]
    widths = [min(40, max(columns(row[n]) for row in rows)) for n in (0, 1)]
    for row in rows:
        cells = (cell + " " * (width - columns(cell)) for cell, width in zip(row, widths))
        yield f"  {'  '.join([*cells, row[2]])}".rstrip()


def _value(value: str | bool | int) -> str:
    return ("true" if value else "false") if isinstance(value, bool) else str(value)


def as_record(path: str, settings: list[Setting]) -> dict[str, Any]:
    """The settings of a file as a value that JSON can write; what nobody says has neither path nor line."""
    return {
        "path": shown(path),
        "settings": [{k: v for k, v in asdict(s).items() if k in ("name", "value") or v} for s in settings],
    }
