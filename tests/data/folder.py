"""Where the test data is."""

from pathlib import Path

DATA = Path(__file__).parent
