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
