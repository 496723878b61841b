"""decodecheck: which words of a text can a child decode with what has been taught?"""

__version__ = "0.1.0"
