"""Sounds, correspondences, and the aligner that joins spelling and sound."""
