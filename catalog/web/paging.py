"""Long lists a page at a time, and the whole numbers that an address may ask for."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from flask import request

from catalog.domain.numbers import whole_number
from catalog.errors import BadInput

PAGE = 50


@dataclass(frozen=True, slots=True)
class Paged:
    """One page of a list. at: its number, from 1. pages: how many there are."""

    rows: Sequence[Any]
    at: int
    pages: int

    def address(self, page: int) -> str:
        """Of another page; whatever else was asked for is asked for again."""
        return f"?{urlencode({**request.args, 'page': page})}"


def paged(rows: Sequence[Any]) -> Paged:
    """The page that the address asks for, the first where it asks for none. Raises BadInput."""
    at = asked_page()
    return one_page(rows[(at - 1) * PAGE : at * PAGE], at, len(rows))


def one_page(rows: Sequence[Any], at: int, total: int) -> Paged:
    """The same of rows that a service parted. total: of rows on all pages."""
    return Paged(rows, at, -(-total // PAGE))


def asked_page() -> int:
    """Which page the address asks for, from 1. Raises BadInput."""
    return max(1, asked_number("page", 1))


def asked_number(name: str, default: int | None = None) -> int:
    """Raises BadInput for what is no number, or is missing and has no default."""
    text = request.args.get(name, "" if default is None else str(default))
    number = whole_number(text)
    if number is None:
        raise BadInput(f"{name} is {text!r}." if text else f"{name} is missing.", cure=f"Give {name}=NUMBER.")
    return number
