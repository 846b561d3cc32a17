"""The time as it is stored: UTC microseconds since 1970."""

from datetime import UTC, datetime, timedelta

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
SECOND = 1_000_000
HOUR = 3600 * SECOND
DAY = 86_400 * SECOND


def now_us() -> int:
    return us_of(datetime.now(UTC))


def us_of(moment: datetime) -> int:
    """moment: aware."""
    return (moment - EPOCH) // timedelta(microseconds=1)


def moment_of(us: int) -> datetime:
    return EPOCH + timedelta(microseconds=us)


def years_ago(years: int) -> str:
    """This day so many years back (UTC), as ISO writes one; of the year 1 where there is no such year."""
    today = datetime.now(UTC)
    return f"{max(1, today.year - years):04}-{today:%m-%d}"
