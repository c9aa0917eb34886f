"""What holds for every pair of types in the shipped table."""

import pytest

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import Circuit, FitJudgement, Outcome, SocketFacts
from tubeshelf.domain.words import say
from tubeshelf.store.shipped import load_catalog


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return load_catalog()


@pytest.fixture(scope="module", params=list(Circuit))
def judgements(catalog: Catalog, request: pytest.FixtureRequest) -> list[FitJudgement]:
    """All pairs of one base, and for each type one of every other base; in series for every third type."""
    facts = SocketFacts(circuit=request.param)
    one_a_base = {tube.base: tube for tube in catalog.types()}
    step = 1 if request.param is Circuit.PARALLEL else 3
    return [
        judge_fit(catalog, intended.designation, found.designation, facts)
        for intended in catalog.types()[::step]
        for found in catalog.types()
        if found.base == intended.base or found is one_a_base[found.base]
    ]


def test_every_type_is_its_own_and_its_equivalents_right_type(catalog: Catalog) -> None:
    for tube in catalog.types():
        names = (tube.designation, *tube.equivalents)
        for intended in names:
            for found in names:
                for circuit in Circuit:
                    judgement = judge_fit(catalog, intended, found, SocketFacts(circuit=circuit))
                    assert judgement.outcome is Outcome.RIGHT_TYPE, (intended, found)


def test_only_equal_types_are_right_and_other_bases_cannot_seat(
    catalog: Catalog, judgements: list[FitJudgement]
) -> None:
    for judgement in judgements:
        intended, found = catalog.find(judgement.intended), catalog.find(judgement.found)
        assert intended is not None
        assert found is not None
        assert (judgement.outcome is Outcome.RIGHT_TYPE) == (intended is found)
        assert (judgement.outcome is Outcome.CANNOT_SEAT) == (intended.base != found.base)


def test_every_judgement_gives_its_reasons_in_words(judgements: list[FitJudgement]) -> None:
    for judgement in judgements:
        assert judgement.reasons
        assert judgement.outcome is max((r.outcome for r in judgement.reasons), key=lambda o: o.severity)
        for sentence in (*map(say, judgement.reasons), *judgement.conditions):
            assert sentence.strip()
            assert "{" not in sentence
            assert "None" not in sentence


def test_what_is_accepted_says_under_which_conditions_or_by_which_entry(
    judgements: list[FitJudgement],
) -> None:
    accepted = [j for j in judgements if j.outcome is Outcome.ACCEPTED_SUBSTITUTE]
    assert accepted
    for judgement in accepted:
        listed = judgement.reasons[0].rule == "listed_substitute"
        assert listed or judgement.conditions[0].startswith("no listed substitute")


def test_a_listed_substitute_serves_with_parallel_heaters(catalog: Catalog) -> None:
    refused = {
        (entry.intended, entry.found, reason.rule)
        for entry in catalog.substitutes()
        if (judgement := judge_fit(catalog, entry.intended, entry.found)).outcome
        is not Outcome.ACCEPTED_SUBSTITUTE
        for reason in judgement.reasons
    }
    assert refused == set()
