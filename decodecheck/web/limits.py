"""What a request may ask of the page: sizes and seconds. What is over them is refused with a message, never cut off in silence."""

LONGEST_TEXT = 600_000
"""Characters of a text, about a hundred thousand words. A check of so many takes well under SECONDS."""
LONGEST_ORDER = 200_000
"""Characters of an order of teaching."""
LONGEST_FIELD = 20_000
"""Characters of any other field."""
LARGEST_REQUEST = 2_500_000
"""Bytes of a request without a file: a text with four bytes to some of its characters, and an order."""
LARGEST_UPLOAD = 25_000_000
"""Bytes of a request with a file: a Word document with pictures."""
MOST_FIELDS = 500
SECONDS = 20.0
"""How long one question may take, waiting for others included."""
SECONDS_TO_SEND = 30.0
"""How long a request may take to come in."""
MOST_WAITING = 100
"""Questions that wait to be answered; more are sent away with a message."""
