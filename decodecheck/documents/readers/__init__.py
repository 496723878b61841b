"""One format of files a module: SUFFIXES, and read(path, data) which makes a Document of its bytes; found by folder."""
