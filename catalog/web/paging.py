"""Long lists a page at a time, and the whole numbers that an address may ask for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from flask import abort, redirect, request

from catalog.domain.numbers import whole_number
from catalog.errors import BadInput

PAGE = 50


@dataclass(frozen=True, slots=True)
class Paged:
    """One page of a list. at: its number, from 1. pages: how many there are. where: the list's address without what is
    asked of it, "" where that is the page's own."""

    rows: Sequence[Any]
    at: int
    pages: int
    where: str = ""

    @property
    def before(self) -> int:
        """The page before; of one behind the end the last one."""
        return max(1, min(self.at - 1, self.pages))

    @property
    def behind(self) -> bool:
        """Whether there is no such page, since it never was or the list got shorter."""
        return self.at > max(1, self.pages)

    @property
    def asked(self) -> Mapping[str, str]:
        """Whatever else was asked for."""
        return {name: value for name, value in request.args.items() if name != "page"}

    def address(self, page: int) -> str:
        """Of another page; whatever else was asked for is asked for again."""
        return f"{self.where}?{urlencode({**self.asked, 'page': page})}"


def paged(rows: Sequence[Any]) -> Paged:
    """The page that the address asks for, the first where it asks for none. Raises BadInput."""
    offset, limit = asked_part()
    return one_page(rows[offset : offset + limit], offset, len(rows))


def one_page(rows: Sequence[Any], offset: int, total: int, where: str = "", most: int | None = None) -> Paged:
    """The same of rows that a service parted. offset: how many come before them. total: of rows on all pages. where:
    see `Paged`. most: see `asked_part`.

    An address behind the end leads to the last page.
    """
    size = _size(most)
    shown = Paged(rows, offset // size + 1, -(-total // size), where)
    if shown.behind and request.method == "GET":
        abort(redirect(shown.address(max(1, shown.pages)), 303))
    return shown


def asked_part(most: int | None = None) -> tuple[int, int]:
    """(how many rows come before the page that the address asks for, how many it has at most). most: rows of a page,
    where each takes much room. Raises BadInput."""
    size = _size(most)
    return (asked_page() - 1) * size, size


def _size(most: int | None) -> int:
    return PAGE if most is None else min(PAGE, most)


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
