"""Readings of words: listed, derived, compiled."""
