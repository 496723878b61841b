"""A school's files: configuration, finding texts, steps, safe writes."""
