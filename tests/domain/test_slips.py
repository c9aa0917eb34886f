import pytest

from tubeshelf.domain.judging import Scale
from tubeshelf.domain.slips import SlipKind, likely_slip

PERCENT = Scale(unit="%", full_scale=100.0)
GM = Scale(unit="µmho", full_scale=15000.0)
OPEN = Scale(unit="µmho")


@pytest.mark.parametrize(
    ("value", "scale", "bogey", "last", "kind"),
    [
        (12000.0, PERCENT, None, None, SlipKind.OFF_SCALE),
        (100.1, PERCENT, None, None, SlipKind.OFF_SCALE),
        (-1.0, PERCENT, None, None, SlipKind.OFF_SCALE),
        (6.9, GM, 9000.0, None, SlipKind.UNIT_SLIP),
        (6.9, GM, None, 7000.0, SlipKind.UNIT_SLIP),
        (6900.0, OPEN, 6.9, None, SlipKind.UNIT_SLIP),
        (620.0, GM, None, 62.0, SlipKind.TEN_TIMES_LAST),
        (6.2, PERCENT, None, 62.0, SlipKind.TENTH_OF_LAST),
        (3300.0, GM, 1600.0, None, SlipKind.ABOVE_TWICE_BOGEY),
    ],
)
def test_slips_are_told_apart(
    value: float, scale: Scale, bogey: float | None, last: float | None, kind: SlipKind
) -> None:
    slip = likely_slip(value, scale=scale, bogey=bogey, last=last)
    assert slip is not None
    assert slip.kind is kind
    assert slip.question.endswith("?")


@pytest.mark.parametrize(
    ("value", "scale", "bogey", "last"),
    [
        (100.0, PERCENT, None, None),
        (0.0, GM, 9000.0, 8000.0),
        (3200.0, GM, 1600.0, None),
        (2100.0, GM, 1600.0, 1500.0),
        (700.0, GM, 1600.0, 1500.0),
        (62.0, PERCENT, None, 0.0),
        (500.0, GM, None, 70.0),
    ],
)
def test_a_plausible_reading_is_not_asked_about(
    value: float, scale: Scale, bogey: float | None, last: float | None
) -> None:
    assert likely_slip(value, scale=scale, bogey=bogey, last=last) is None


def test_the_question_says_what_is_wrong() -> None:
    slip = likely_slip(12000.0, scale=PERCENT, bogey=None, last=None)
    assert slip is not None
    assert slip.question == "12,000 is off the scale, which ends at 100: keep it?"


def test_a_comma_for_thousands_is_asked_about_as_a_thousandth_of_the_bogey() -> None:
    slip = likely_slip(6.9, scale=GM, bogey=6900.0, last=None)
    assert slip is not None
    assert slip.question == "6.9 is about 1,000 times less than the bogey, 6,900: is the unit right?"


def test_a_scale_of_words_ends_at_its_last_word() -> None:
    words = Scale(words=("bad", "doubtful", "good"))
    assert likely_slip(3.0, scale=words, bogey=None, last=None) is None
    for value in (0.0, 4.0, 1.5):
        slip = likely_slip(value, scale=words, bogey=None, last=None)
        assert slip is not None
        assert slip.kind is SlipKind.OFF_SCALE
