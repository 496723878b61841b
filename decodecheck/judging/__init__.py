"""Forms: what a teaching order says of one word by itself."""
