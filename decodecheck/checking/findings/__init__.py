"""One kind of finding a file: SEVERITY, applies(word) and say(word), or find(report); and a docstring that is its manual page."""
