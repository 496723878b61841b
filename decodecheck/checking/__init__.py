"""Judge words against a teaching order and report what cannot be read yet."""
