"""Whole numbers as people and addresses write them."""

_MOST_DIGITS = 9  # fits every column and every reader of JSON


def whole_number(text: str) -> int | None:
    """The number, 0 or more, that up to nine digits 0 to 9 write; None for every other text."""
    return int(text) if len(text) <= _MOST_DIGITS and text.isascii() and text.isdigit() else None


def counted(number: int, one: str, many: str = "") -> str:
    """ "1 edition", "2 editions", "1,200 records"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"
