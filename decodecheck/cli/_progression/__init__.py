"""The subcommands of `decodecheck progression`, one a file."""
