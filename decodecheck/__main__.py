"""`python -m decodecheck`."""

from decodecheck.cli.main import main

main()
