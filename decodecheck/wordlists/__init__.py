"""Word lists: words of the whole lexicon that fit a lesson, from easy to hard to spell."""
