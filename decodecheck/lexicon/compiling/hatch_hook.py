"""Compile the lexicon when the package is built or installed from source."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class CompileHook(BuildHookInterface[Any]):
    """Compiles `rules/` unless the compiled form is of today's files already."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by the build before files are collected; a source distribution needs no compiled form."""
        if self.target_name != "wheel":
            return
        root = Path(self.root)
        sys.path.insert(0, str(root))
        try:
            from decodecheck.lexicon.compiling.compile import compile_lexicon, is_current
            from decodecheck.resources import compiled_folder

            rules, target = root / "rules", compiled_folder()
            if not is_current(rules, target):
                self.app.display_info("decodecheck: compiling the lexicon; this takes a minute or two")
                compile_lexicon(rules, target)
        finally:
            sys.path.remove(str(root))
