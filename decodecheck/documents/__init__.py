"""Texts and spreadsheets as they come, cut into words and cells."""
