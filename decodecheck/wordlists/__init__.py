"""Lists of words for a step: chains that change one sound at a time, invented words to try decoding with."""
