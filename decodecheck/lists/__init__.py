"""Word lists in files: read, held against a teaching order, mended."""
