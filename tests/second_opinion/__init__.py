"""Verdicts worked out a second time, by another road, and laws that every verdict must keep."""
