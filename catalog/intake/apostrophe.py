"""Text in CSV that a spreadsheet program would take for a formula: one leading apostrophe, taken off on the way in."""

STARTS = ("=", "+", "-", "@", "'", "\t", "\r")


def guarded(text: str) -> str:
    """As it is written into CSV: "=1+1" -> "'=1+1"."""
    return f"'{text}" if text.startswith(STARTS) else text


def unguarded(text: str) -> str:
    """Inverse of `guarded`; an apostrophe before anything else is the text's own."""
    return text[1:] if text[:1] == "'" and text[1:].startswith(STARTS) else text
