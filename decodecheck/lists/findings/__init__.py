"""One kind of finding on word lists a file: SEVERITY, find(examined), and a docstring that is its manual page."""
