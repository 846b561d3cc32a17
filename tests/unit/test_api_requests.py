"""What requests may hold: values, refusals, cures."""

from datetime import UTC, datetime

import pytest
from marshmallow import ValidationError

from schemas.request_fields import Refusal, Request
from schemas.requests import (
    ChangesRequest,
    FindRequest,
    NoArguments,
    RecordRequest,
    RecordsRequest,
    ResolveRequest,
)


def refusals(schema: Request, given: object) -> list[Refusal]:
    with pytest.raises(ValidationError) as caught:
        schema.load(given)  # type: ignore[arg-type]
    return list(schema.refusals(caught.value.messages))


def test_a_description_alone_has_defaults() -> None:
    assert ResolveRequest().load({"text": ""}) == {
        "text": "", "settled": False, "cues": (), "struck": (), "limit": 10, "include": (),
        "answers": {}, "excluded": (),
    }  # fmt: skip


@pytest.mark.parametrize("limit", [1, 10**30, 3.0])
def test_any_limit_from_one_is_taken(limit: float) -> None:
    assert ResolveRequest().load({"text": "van", "limit": limit})["limit"] == limit


@pytest.mark.parametrize("limit", [0, -1, True, "3", 2.5, None, [], float("nan"), float("inf")])
def test_what_is_not_a_whole_number_from_one_is_refused(limit: object) -> None:
    [refusal] = refusals(ResolveRequest(), {"text": "van", "limit": limit})
    assert (refusal.path, refusal.cure) == ("limit", "Give a whole number from 1, or leave it out for 10.")


def test_2000_code_points_are_taken_and_one_more_is_not() -> None:
    assert ResolveRequest().load({"text": "🚒" * 2000})["text"] == "🚒" * 2000
    [refusal] = refusals(ResolveRequest(), {"text": "x" * 2001})
    assert refusal.detail == "Longer than 2000 characters."
    assert "2,000" in refusal.cure


@pytest.mark.parametrize("text", [None, 3, ["van"], "\ud83d", {"a": 1}])
def test_what_is_not_text_is_refused(text: object) -> None:
    assert [refusal.path for refusal in refusals(ResolveRequest(), {"text": text})] == ["text"]


@pytest.mark.parametrize(
    ("name", "cure"),
    [
        ("limt", "Did you mean limit?"),
        ("Text", "Did you mean text?"),
        ("driving-side", "Did you mean driving_side?"),
        (
            "zebra",
            "Leave it out, or use one of: text, settled, cues, struck, driving_side, limit, include, answers, "
            "excluded, caller.",
        ),
    ],
)
def test_an_unknown_field_is_refused_with_what_may_be_meant(name: str, cure: str) -> None:
    assert refusals(ResolveRequest(), {"text": "van", name: 1}) == [Refusal(name, "Unknown field.", cure)]


def test_an_unknown_include_says_which_are_known() -> None:
    [refusal] = refusals(ResolveRequest(), {"text": "van", "include": ["why", "face"]})
    assert refusal.path == "include[1]"
    assert "why" in refusal.detail


def test_the_driving_side_is_left_or_right() -> None:
    assert ResolveRequest().load({"text": "van", "driving_side": "right"})["driving_side"] == "right"
    assert refusals(ResolveRequest(), {"text": "van", "driving_side": "both"})[0].path == "driving_side"
    assert refusals(ResolveRequest(), {"text": "van", "driving_side": None})[0].path == "driving_side"


def test_no_refusal_repeats_a_value() -> None:
    secret = "a man named nobody at 7 Nowhere Street"
    given = {"text": [secret], "limit": secret, "driving_side": secret, "include": [secret, {secret: secret}]}
    assert secret not in str(refusals(ResolveRequest(), given))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # The forms of RFC 3339 section 5.8, examples; the leap second becomes the instant after it.
        ("1985-04-12T23:20:50.52Z", datetime(1985, 4, 12, 23, 20, 50, 520000, UTC)),
        ("1996-12-19T16:39:57-08:00", datetime(1996, 12, 20, 0, 39, 57, tzinfo=UTC)),
        ("1990-12-31T23:59:60Z", datetime(1991, 1, 1, tzinfo=UTC)),
        ("1990-12-31T15:59:60-08:00", datetime(1991, 1, 1, tzinfo=UTC)),
        ("1937-01-01T12:00:27.87+00:20", datetime(1937, 1, 1, 11, 40, 27, 870000, UTC)),
        ("2026-03-01t09:30:00z", datetime(2026, 3, 1, 9, 30, tzinfo=UTC)),
        ("2026-03-01T09:30:00.1234567Z", datetime(2026, 3, 1, 9, 30, 0, 123456, UTC)),
    ],
)
def test_instants_are_rfc_3339(text: str, expected: datetime) -> None:
    assert RecordRequest().load({"at": text}) == {"at": expected}


@pytest.mark.parametrize(
    "text",
    ["2026-03-01", "2026-13-01T00:00:00Z", "2026-03-01T09:30:61Z", "2026-03-01T24:00:00Z", "now", "",
     "2026-03-01T09:30:00 01:00", "0001-01-01T00:00:00+01:00", "2026-03-01T09:30Z", "20260301T093000Z"],
)  # fmt: skip
def test_other_times_are_refused_with_how_to_write_one(text: str) -> None:
    [refusal] = refusals(RecordRequest(), {"at": text})
    assert (refusal.path, "2026-03-01T09:30:00Z" in refusal.cure) == ("at", True)


def test_a_naive_time_is_refused_saying_what_is_missing() -> None:
    [refusal] = refusals(RecordRequest(), {"at": "2026-03-01T09:30:00"})
    assert "zone" in refusal.detail


def test_edition_and_time_together_are_refused() -> None:
    [refusal] = refusals(RecordRequest(), {"at": "2026-03-01T09:30:00Z", "edition": "2"})
    assert refusal.path == ""
    assert "edition and at" in refusal.detail


@pytest.mark.parametrize("number", ["0", "-1", "1.0", "", " 1", "x", "２", "2147483648", "9" * 30])
def test_what_cannot_be_an_edition_is_refused(number: str) -> None:
    assert refusals(RecordsRequest(), {"edition": number})[0].path == "edition"


def test_lists_have_bounds() -> None:
    assert RecordsRequest().load({"limit": "500", "after": "222-222"}) == {"limit": 500, "after": "222-222"}
    assert refusals(RecordsRequest(), {"limit": "501"})[0].path == "limit"
    assert FindRequest().load({"q": "cut loop"}) == {"q": "cut loop", "limit": 20}
    assert refusals(FindRequest(), {"q": "x" * 201})[0].path == "q"
    assert refusals(FindRequest(), {})[0].detail == "Missing."


def test_changes_need_the_other_edition() -> None:
    [refusal] = refusals(ChangesRequest(), {})
    assert (refusal.path, "?to=" in refusal.cure) == ("to", True)


def test_what_takes_nothing_refuses_everything() -> None:
    assert refusals(NoArguments(), {"edition": "1"})[0].cure == "Leave it out: nothing can be given here."
