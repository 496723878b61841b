"""Reports: what each says, and each format in a file of its own."""
