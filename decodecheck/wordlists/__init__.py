"""Word lists for a step: words of the whole lexicon that fit a lesson, chains of words, invented words."""
