"""Reports: one format a file."""
