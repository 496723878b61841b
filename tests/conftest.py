"""Tests keep nothing from run to run, but for those that say so."""

import os

os.environ["DECODECHECK_CACHE"] = ""
