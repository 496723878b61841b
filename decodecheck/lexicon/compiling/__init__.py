"""Maintainers: fetch source dictionaries, compile the lexicon, audit it."""
