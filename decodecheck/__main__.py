"""`python -m decodecheck`."""

import importlib
import os
import sys
from pathlib import Path

# `python -m` looks for modules in the current folder first; what lies there is checked, never run
if sys.path and Path(__file__).resolve().parents[1] != Path(os.path.realpath(sys.path[0])) == Path.cwd().resolve():
    del sys.path[0]

importlib.import_module("decodecheck.cli.main").main()
