"""Texts as they come, cut into words."""
