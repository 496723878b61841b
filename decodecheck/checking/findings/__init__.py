"""One kind of finding a file: SEVERITY, say(verdict, context), and a docstring that is its manual page."""
