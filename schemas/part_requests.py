"""Part of a long list: how many are passed over, and how many come at most."""

from typing import Any

from marshmallow import validate

from schemas.request_fields import Digits, Request

MOST_PASSED = 2**31 - 1  # what every database's integer column holds


def part_fields(usual: int = 50, most: int = 200) -> tuple[Any, Any]:
    """(offset, limit) of a request. usual: how many where nothing is said; most: how many may be asked for."""
    offset = Digits(
        load_default=0,
        validate=validate.Range(min=0, max=MOST_PASSED, error="Not {min} to {max}."),
        metadata={"description": "Leave out so many first.", "cure": "Give a whole number from 0."},
    )
    limit = Digits(
        load_default=usual,
        validate=validate.Range(min=1, max=most, error="Not {min} to {max}."),
        metadata={
            "description": f"At most so many, up to {most}.",
            "cure": f"Give a whole number from 1 to {most}, or leave it out for {usual}.",
        },
    )
    return offset, limit


class PartRequest(Request):
    """Which part of the list."""

    offset, limit = part_fields()


class LongPartRequest(Request):
    """Which part of a list whose rows are short."""

    offset, limit = part_fields(100, 500)
