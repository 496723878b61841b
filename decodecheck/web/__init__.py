"""The local page: a text as it reads with its difficult spots marked, what it fits, what to change, words for a lesson."""
