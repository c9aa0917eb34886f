"""What may go into every socket of the shipped table, against judging all pairs of one base."""

import time

import pytest

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_types
from tubeshelf.domain.fitting import Circuit, Outcome, SocketFacts
from tubeshelf.domain.ranking import CHECKABLE, Standing, what_may_go
from tubeshelf.store.shipped import load_catalog

FACTS = (
    SocketFacts(),
    SocketFacts(circuit=Circuit.SERIES),
    SocketFacts(plate_supply_v=250.0, screen_supply_v=200.0),
)


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return load_catalog()


@pytest.mark.parametrize("facts", FACTS, ids=["parallel", "series", "known supplies"])
def test_it_is_what_judging_every_pair_gives(catalog: Catalog, facts: SocketFacts) -> None:
    for intended in catalog.types()[::25]:
        allowed = set()
        for tube in catalog.types():
            if tube.base != intended.base or tube.retired:
                continue
            judgement = judge_types(catalog, intended, tube, facts)
            wrong = judgement.outcome is Outcome.WRONG_TYPE
            if judgement.outcome in (Outcome.RIGHT_TYPE, Outcome.ACCEPTED_SUBSTITUTE) or (
                wrong and {reason.rule for reason in judgement.reasons} <= CHECKABLE
            ):
                allowed.add(tube.key)
        assert {one.tube.key for one in what_may_go(catalog, intended, facts)} == allowed, intended.key


def test_every_socket_has_its_own_type_first_and_the_standings_in_order(catalog: Catalog) -> None:
    order = list(Standing)
    for intended in catalog.types()[::3]:
        found = what_may_go(catalog, intended, SocketFacts())
        assert (found[0].tube, found[0].standing) == (intended, Standing.RIGHT)
        places = [order.index(one.standing) for one in found]
        assert places == sorted(places)
        assert places.count(0) == 1
        for one in found:
            assert (
                one.judgement.conditions
                or one.standing is not Standing.WITH_A_CHECK
                or ("tie_missing" in [reason.rule for reason in one.judgement.reasons])
            )


def test_no_socket_takes_fifty_milliseconds(catalog: Catalog) -> None:
    slowest = max(catalog.types(), key=lambda tube: _seconds(catalog, tube.key))
    assert min(_seconds(catalog, slowest.key) for _ in range(3)) < 0.05


def _seconds(catalog: Catalog, key: str) -> float:
    intended = catalog.find(key)
    assert intended is not None
    began = time.perf_counter()
    what_may_go(catalog, intended, SocketFacts())
    return time.perf_counter() - began
