import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.charts.zones import LENGTH, row
from tubeshelf.domain.judging import Limit, Zone
from tubeshelf.domain.verdict import between_words

FULL = Limit(good_from=7000, reject_below=5000, bogey=11300)


@pytest.mark.parametrize(
    ("value", "place"), [(0, 0), (2500, 0.5), (5000, 1), (6000, 1.5), (7000, 2), (9150, 2.25), (11300, 2.5)]
)
def test_a_reading_stands_within_the_zones_of_its_limit(value: float, place: float) -> None:
    assert row(FULL, [value]).place(value) == pytest.approx(place)


def test_a_reading_far_above_the_bogey_still_stands_on_the_bar() -> None:
    axis = row(FULL, [60000])
    assert axis.place(60000) == LENGTH
    assert axis.place(7000) == 2


@pytest.mark.parametrize(
    ("limit", "zones"),
    [
        (FULL, [(Zone.REJECT, 0, 1), (Zone.WEAK, 1, 2), (Zone.GOOD, 2, 3)]),
        (Limit(good_from=40, reject_below=None), [(Zone.WEAK, 0, 2), (Zone.GOOD, 2, 3)]),
        (Limit(good_from=None, reject_below=40), [(Zone.REJECT, 0, 1), (Zone.GOOD, 1, 3)]),
        (Limit(good_from=40, reject_below=40), [(Zone.REJECT, 0, 2), (Zone.GOOD, 2, 3)]),
        (Limit(good_from=None, reject_below=None, bogey=50), [(Zone.UNJUDGED, 0, 3)]),
        (None, [(Zone.UNJUDGED, 0, 3)]),
    ],
)
def test_only_the_zones_that_a_limit_names_are_shown(
    limit: Limit | None, zones: list[tuple[Zone, float, float]]
) -> None:
    assert [(span.zone, span.start, span.end) for span in row(limit, [45]).spans] == zones


def test_a_word_stands_in_the_middle_of_its_zone() -> None:
    axis = row(between_words(Limit(good_from=3, reject_below=2)), [2])
    assert axis.place(2) == 1.5


figures = st.floats(-1e6, 1e6, allow_nan=False)


@given(
    good=st.none() | figures,
    reject=st.none() | figures,
    bogey=st.none() | figures,
    value=figures,
    other=figures,
)
def test_a_marker_stands_in_the_zone_it_is_judged_by_and_higher_readings_further_right(
    good: float | None, reject: float | None, bogey: float | None, value: float, other: float
) -> None:
    if good is not None and reject is not None and good < reject:
        good = reject
    axis = row(Limit(good_from=good, reject_below=reject, bogey=bogey), [value, other])
    place = axis.place(value)
    assert 0 <= place <= LENGTH
    low, high = sorted((value, other))
    assert axis.place(low) <= axis.place(high)
    if good is None and reject is None:
        return
    zone = Zone.REJECT if reject is not None and value < reject else Zone.GOOD
    if zone is Zone.GOOD and good is not None and value < good:
        zone = Zone.WEAK
    assert any(s.zone is zone and s.start <= place <= s.end for s in axis.spans)
