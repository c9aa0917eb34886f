"""What holds for every pair of types in the shipped table."""

import re

import pytest

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fit_sections import is_output
from tubeshelf.domain.fitting import Circuit, FitJudgement, Outcome, SocketFacts
from tubeshelf.domain.words import say
from tubeshelf.store.shipped import load_catalog


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return load_catalog()


@pytest.fixture(scope="module", params=list(Circuit))
def judgements(catalog: Catalog, request: pytest.FixtureRequest) -> list[FitJudgement]:
    """Pairs of one base, and for each type one of every other base; all of them would take a minute.

    In parallel the pairs of every 13th intended type, in series of every 29th.
    """
    facts = SocketFacts(circuit=request.param)
    one_a_base = {tube.base: tube for tube in catalog.types()}
    step = 13 if request.param is Circuit.PARALLEL else 29
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


def test_as_good_runs_both_ways_only_where_the_table_shows_no_difference(catalog: Catalog) -> None:
    """A later letter replaces an earlier one, a selected tube a plain one; never the reverse."""
    as_good = {(entry.intended, entry.found) for entry in catalog.substitutes() if entry.grade == 1}
    both_ways = {pair for pair in as_good if pair[::-1] in as_good}
    assert both_ways
    for intended, found in both_ways:
        judgement = judge_fit(catalog, intended, found)
        assert [reason.rule for reason in judgement.reasons] == ["listed_substitute"], (intended, found)


def test_what_is_listed_one_way_is_not_accepted_the_other_way(catalog: Catalog) -> None:
    listed = {(entry.intended, entry.found) for entry in catalog.substitutes()}
    one_way = {pair for pair in listed if pair[::-1] not in listed}
    assert len(one_way) > 50
    for intended, found in one_way:
        backwards = judge_fit(catalog, found, intended)
        assert backwards.outcome in (Outcome.WRONG_TYPE, Outcome.HARMFUL), (intended, found)
        assert "one_way" in [reason.rule for reason in backwards.reasons]


def test_a_later_letter_serves_for_an_earlier_one_and_never_the_reverse(catalog: Catalog) -> None:
    for tube in catalog.types():
        later = re.fullmatch(r"(.*\d(?:G|GT)?)([A-C])", tube.designation)
        earlier = catalog.find(later[1]) if later else None
        if later is None or earlier is None or earlier.designation != later[1] or earlier.base != tube.base:
            continue
        assert judge_fit(catalog, earlier.key, tube.key).outcome is Outcome.ACCEPTED_SUBSTITUTE
        if catalog.substitute(tube.key, earlier.key) is None:  # listed both ways: only the bulb is another
            backwards = judge_fit(catalog, tube.key, earlier.key).outcome
            assert backwards in (Outcome.WRONG_TYPE, Outcome.HARMFUL), (earlier.key, tube.key)


def test_no_output_tube_of_another_family_is_accepted_that_is_not_listed(
    catalog: Catalog, judgements: list[FitJudgement]
) -> None:
    for judgement in judgements:
        if judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE:
            intended, found = catalog.find(judgement.intended), catalog.find(judgement.found)
            assert intended is not None
            assert found is not None
            if any(map(is_output, found.sections)) and intended.family != found.family:
                assert judgement.reasons[0].rule == "listed_substitute", (judgement.intended, found.key)


def test_a_metal_tube_and_its_glass_forms_serve_for_each_other(catalog: Catalog) -> None:
    metal = [tube for tube in catalog.types() if tube.envelope == "metal"]
    pairs = [
        (m, g) for m in metal for suffix in ("G", "GT") if (g := catalog.find(f"{m.designation}{suffix}"))
    ]
    assert len(pairs) > 15
    for one, other in (*pairs, *(pair[::-1] for pair in pairs)):
        judgement = judge_fit(catalog, one.key, other.key)
        assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE, (one.key, other.key)
        if other.envelope == "glass":
            assert "mind shielding: glass for metal" in judgement.conditions
