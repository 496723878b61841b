"""The language in which a school declares its order of teaching."""
