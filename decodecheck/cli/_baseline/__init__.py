"""Commands of `decodecheck baseline`, one file each."""
