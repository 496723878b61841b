"""Stretches without white space as stories, posters and letters home have them: numerals, times, money, dates, addresses."""

from __future__ import annotations

# fmt: off
NUMERALS = [
    "0", "7", "10", "1066", "1,066", "50,000", "3.14", ".5", "10:30", "10:30am", "7.15pm", "6pm", "5p", "£3.50",
    "£200,000", "$5", "€2.50", "50p", "3rd", "21st", "31st", "1/2", "3/4", "½", "2½", "100%", "20°C", "5cm", "10km",
    "3kg", "60mph", "6ft", "12/05/2026", "2026-11-27", "27.11.26", "1812-1813", "1990s", "1990's", "'90s",
    "12-year-old", "7-up", "B12", "A4", "x2", "2x4", "3D", "mp3", "4x4", "No.7", "p.12", "pp.3-4", "x=3", "2+2=4",
    "10-4", "-5", "+44", "01632-960-001", "(c)2000", "#1", "&c", "0-9", "24/7", "5*", "1st-class", "10,000m", "3:2",
    "12.30-1.15", "0-123-45678-9", "Mr.2",
]
SHORTENED = [
    "e.g.", "i.e.", "i.e.,", "U.S.", "U.K.", "a.m.", "p.m.", "Ph.D.", "St.", "Mr.", "B.B.C.", "etc.", "vs.", "No.",
    "Ltd.", "C.D.", "J.R.R.",
]
WORDS = [
    "Nettle", "donkey", "and/or", "he/she", "yes/no", "Mr.Pike", "end.Then", "Hello.Then", "stop.sat", "hen...ran",
    "ran--then", "boat's", "o'clock", "Hop!Hop", "a,b", "Look:there",
]
SITES = [
    "www.harbour-lane.org", "www.x.org/a?b=c", "www.x.co.uk/", "http://x.org", "https://www.x.org/a/b.html#top",
    "http://x.org:8080/a", "x.org", "x.co.uk", "harbour.school", "x.com", "x.org/a/b", "x.net/a.b.c", "ftp://x.org/pub",
    "donkeys.info/nettle", "harbour-lane.example.org", "lane.org.uk", "x.gov", "a.io", "https://x.org/?q=1&r=2",
    "http://x.org/~pike", "www.x.org:80", "x.edu/a_b-c", "http://192.0.2.1/a", "192.0.2.1/a", "x.fr/a",
    "boats.example/tide",
]
MAIL = [
    "nettle@x.org", "a.b@c.org", "mr-pike@harbour-lane.example.org", "tilda_1@x.co.uk", "omar+boats@x.com",
    "t@x.school", "7up@x.org",
]
OPENING = ["", "", "", "(", "“", '"', "'", "‘", "[", "(“", "*", "_", "—", "…", "<", "{", "=", "£"]
CLOSING = ["", "", "", ".", ",", "!", "?", ")", "”", '"', "'", "’", ").", ",”", ".’", "...", "…", "]", "*", "_", "—", ":", ";", "'s", "’s", ">", "}"]
JOINED = ["—", "–", "...", "…", "--", "/", ",", ";", ":", "-", "=", "+", "&", "*", "'", ".", "(", ")", ").", "”", "_", "~", "|"]

# fmt: on
PLAIN = [*NUMERALS, *SHORTENED, *WORDS]
ALL = [*PLAIN, *SITES, *SITES, *MAIL]
