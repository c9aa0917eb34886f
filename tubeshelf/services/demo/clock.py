"""The demo's clock, which walks through the years while the workshop works."""

from datetime import UTC, date, datetime, time, timedelta

OPENS = time(9, 0)
TICK = timedelta(seconds=20)
"""What an act takes; each look at the clock is one."""


class DemoClock:
    """Tells invented times, always later than the last one; the same for the same ``today``."""

    def __init__(self, today: date) -> None:
        self._today = today
        self._now = datetime.min.replace(tzinfo=UTC)

    def __call__(self) -> datetime:
        """The next instant, aware."""
        self._now += TICK
        return self._now

    def day(self, days_ago: int) -> date:
        """The working day so many days before today (after it, if negative): not a Saturday or Sunday."""
        day = self._today - timedelta(days=days_ago)
        return day - timedelta(days=max(0, day.weekday() - 4))

    def go_to(self, days_ago: int) -> None:
        """On to the morning of that day, by the bench's own time; a day that is under way goes on."""
        morning = datetime.combine(self.day(days_ago), OPENS).astimezone(UTC)
        self._now = max(self._now, morning)
