"""Progress on anything that takes over a second: on standard error, never in the output."""

import sys
import time
from collections.abc import Iterable, Iterator
from typing import TypeVar

import click

Thing = TypeVar("Thing")

_SILENT = 1.0  # seconds before anything is said
_AGAIN = 0.5


def told(things: Iterable[Thing], what: str) -> Iterator[Thing]:
    """The same things; after a second, how many have gone by."""
    began = said = time.monotonic()
    count = 0
    for count, thing in enumerate(things, 1):
        yield thing
        now = time.monotonic()
        if now - began > _SILENT and now - said > _AGAIN:
            said = now
            _say(f"{count:,} {what}", stay=False)
    if said != began:
        _say(f"{count:,} {what}", stay=True)


def step(text: str) -> None:
    """One line about what is being done now."""
    _say(text, stay=True)


def _say(text: str, *, stay: bool) -> None:
    terminal = sys.stderr.isatty()
    if stay or terminal:
        click.echo(f"\r{text}" if terminal else text, err=True, nl=stay)
