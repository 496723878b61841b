"""A school's files: configuration with its groups, finding texts, starting a progression, safe writes."""
