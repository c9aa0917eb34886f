"""Is it the tube that was left, and does the shop's term still run?"""

from datetime import date

import pytest

from tubeshelf.domain.comeback import SameTube, same_by_tag, term_end, term_text
from tubeshelf.domain.errors import UserError

CLOSED = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("left", "read", "answer"),
    [
        ("0412", "412", SameTube.YES),
        ("0412", "T0412", SameTube.YES),
        ("0412", " 0412 ", SameTube.YES),
        ("0412", "413", SameTube.NO),
        ("", "412", SameTube.NO),
    ],
)
def test_the_tag_on_the_base_tells_the_same_tube_from_another(left: str, read: str, answer: SameTube) -> None:
    assert same_by_tag(left, read) is answer


@pytest.mark.parametrize("read", ["", "12AX7", "0", "4.1", "T"])
def test_what_is_no_tag_is_asked_for_again(read: str) -> None:
    with pytest.raises(UserError, match="is no tag"):
        same_by_tag("0412", read)


def test_the_term_counts_from_the_closing_day_and_its_last_day_is_within() -> None:
    assert term_end(CLOSED, 90) == date(2026, 5, 31)
    assert term_text(12, CLOSED, 90, date(2026, 5, 31)) == (
        "Within the term: 90 days from 2 Mar 2026, until 31 May 2026; it came in with 0 days left."
    )
    assert term_text(12, CLOSED, 90, date(2026, 6, 1)) == (
        "Out of the term: 90 days from 2 Mar 2026, until 31 May 2026; it came in 1 day later."
    )


def test_without_a_term_or_a_closing_day_nothing_runs() -> None:
    assert term_end(CLOSED, None) is term_end(None, 90) is None
    assert term_text(12, None, 90, CLOSED) == "Job 12 is not closed: no term runs yet."
    assert "No term was set" in term_text(12, CLOSED, None, CLOSED)
