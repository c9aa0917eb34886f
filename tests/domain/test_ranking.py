"""What may go into a socket, against judging every type of the table one by one."""

from dataclasses import replace

import pytest

from tests.domain.tubes import output, rectifier, serves, twin
from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_types
from tubeshelf.domain.fitting import Circuit, Outcome, SocketFacts
from tubeshelf.domain.ranking import CHECKABLE, Standing, what_may_go
from tubeshelf.domain.types import Substitute, TubeType

AX, LOW_NOISE = twin("12AX7", plate_v_max=300.0), twin("7025", plate_v_max=300.0)
RUGGED = twin("5751", figures={"mu": 70.0, "gm_umho": 1200.0}, plate_v_max=300.0)
NEAR, NEARER = (
    twin(name, figures={"mu": mu, "gm_umho": 1600.0}, plate_v_max=300.0)
    for name, mu in (("A1", 90.0), ("B2", 97.0))
)
WEAK = twin("C3", plate_v_max=150.0)
LOUD = twin("12AU7", figures={"mu": 17.0, "gm_umho": 2200.0})
BURNT = twin("6DJ8", "6.3/0.3 4-5", nine="shield")
NOTHING_KNOWN = SocketFacts()
ALL = (WEAK, BURNT, LOUD, NEAR, NEARER, RUGGED, LOW_NOISE, AX, output("6V6GT"))


def ranked(
    types: tuple[TubeType, ...], *entries: Substitute, facts: SocketFacts = NOTHING_KNOWN
) -> list[tuple[str, Standing, int | None]]:
    found = what_may_go(Catalog(types, entries), AX, facts)
    return [(one.tube.designation, one.standing, one.grade) for one in found]


def test_the_type_itself_stands_first_then_listed_unlisted_and_what_wants_a_check() -> None:
    entries = serves(AX, RUGGED, "lower gain", grade=2), serves(AX, LOW_NOISE, grade=1)
    assert ranked(ALL, *entries) == [
        ("12AX7", "right", None),
        ("7025", "as good", 1),
        ("5751", "serves", 2),
        ("B2", "compare", None),
        ("A1", "compare", None),
        ("C3", "with a check", None),
    ]


def test_a_third_grade_stands_behind_a_second_and_before_the_unlisted() -> None:
    entries = serves(AX, NEAR, "in need", grade=3), serves(AX, RUGGED, "lower gain", grade=2)
    assert [name for name, *_ in ranked((AX, NEARER, NEAR, RUGGED), *entries)] == [
        "12AX7",
        "5751",
        "A1",
        "B2",
    ]


def test_what_wants_a_check_says_which() -> None:
    (weak,) = (c for c in what_may_go(Catalog(ALL), AX, SocketFacts()) if c.tube is WEAK)
    assert weak.judgement.conditions == (
        "check that the plate voltage stays within 150 V (300 V was designed)",
    )


def test_the_plain_type_in_the_place_of_the_selected_one_wants_a_check() -> None:
    catalog = Catalog([AX, LOW_NOISE], [serves(AX, LOW_NOISE, grade=1)])
    [_right, plain] = what_may_go(catalog, LOW_NOISE, SocketFacts())
    assert (plain.tube, plain.standing) == (AX, Standing.WITH_A_CHECK)
    assert plain.judgement.conditions == ("check whether this place needs what a 7025 has over a 12AX7",)


def test_the_circuit_and_the_supply_of_the_socket_decide() -> None:
    entry = serves(AX, RUGGED, "parallel heaters only")
    odd = twin("5751", "6.3/0.35 4+5-9 | 12.6/0.175 4-5")
    series = SocketFacts(circuit=Circuit.SERIES)
    assert [name for name, *_ in ranked((AX, odd), entry, facts=series)] == ["12AX7"]
    assert ranked((AX, WEAK), facts=SocketFacts(plate_supply_v=120.0))[1] == ("C3", "compare", None)
    assert len(ranked((AX, WEAK), facts=SocketFacts(plate_supply_v=200.0))) == 1


def test_less_drop_or_more_heater_current_comes_with_a_check_and_harm_does_not_come() -> None:
    low, hungry, weak = rectifier("5V4", drop_v=20.0), rectifier("A", "5/2.4 2-8"), rectifier("B", dc_ma=90.0)
    catalog = Catalog([rectifier("5Y3"), low, hungry, weak])
    intended = catalog.find("5Y3")
    assert intended is not None
    found = what_may_go(catalog, intended, SocketFacts())
    assert [one.tube.designation for one in found] == ["5Y3", "5V4", "A"]


def test_what_is_retired_is_not_offered() -> None:

    assert ranked((AX, replace(LOW_NOISE, retired=True))) == [("12AX7", "right", None)]


@pytest.mark.parametrize("rule", ["heater_under", "mu_differs", "cutoff_differs", "element_missing"])
def test_no_check_makes_another_characteristic_or_heater_right(rule: str) -> None:
    assert rule not in CHECKABLE


def test_it_never_offers_harm_and_leaves_nothing_out_that_a_single_judgement_allows() -> None:
    catalog = Catalog(ALL, [serves(AX, LOUD, "far less gain", grade=3)])
    offered = {one.tube.key for one in what_may_go(catalog, AX, SocketFacts())}
    for tube in ALL:
        judgement = judge_types(catalog, AX, tube, SocketFacts())
        good = judgement.outcome in (Outcome.RIGHT_TYPE, Outcome.ACCEPTED_SUBSTITUTE)
        wrong = judgement.outcome is Outcome.WRONG_TYPE
        checkable = wrong and {reason.rule for reason in judgement.reasons} <= CHECKABLE
        assert (tube.key in offered) == (good or checkable), tube.key
