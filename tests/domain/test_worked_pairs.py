"""Pairs worked out from data sheets before the program was asked, and what it says of them.

``cases/fit_pairs.csv`` asks about a pair alone, ``cases/fit_facts.csv`` about one in a socket of which more
is known. The source beside each case is where its figures are published.
"""

import csv
from functools import cache
from pathlib import Path

import pytest

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import Bias, Circuit, FitJudgement, SocketFacts
from tubeshelf.domain.words import say
from tubeshelf.store.shipped import load_catalog

Case = dict[str, str]
CASES = Path(__file__).with_name("cases")
NUMBERS = {
    "plate_v": "plate_supply_v",
    "screen_v": "screen_supply_v",
    "bias_v": "bias_v",
    "capacitor_v": "capacitor_v",
    "winding_a": "winding_a",
    "winding_load_a": "winding_load_a",
}
"""Columns of figures, and what the facts of a socket call them."""


def cases(name: str) -> list[Case]:
    with (CASES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


PAIRS = cases("fit_pairs.csv")
SOCKETS = cases("fit_facts.csv")


def name_of(case: Case) -> str:
    told = [f"{key}={value}" for key, value in case.items() if value and (key in NUMBERS or key in OTHERS)]
    return " ".join([case["intended"], "<-", case["found"], case["circuit"], *told])


OTHERS = ("heater_pins", "bias", "ties")


@cache
def catalog() -> Catalog:
    return load_catalog()


def facts(case: Case) -> SocketFacts:
    known = {NUMBERS[column]: float(case[column]) for column in NUMBERS if case.get(column)}
    return SocketFacts(
        circuit=Circuit(case["circuit"]),
        heater_pins=case.get("heater_pins", ""),
        bias=Bias(case["bias"]) if case.get("bias") else None,
        ties=tuple(case.get("ties", "").split()),
        **known,
    )


def sentences(judgement: FitJudgement) -> str:
    said = (*map(say, judgement.reasons), *judgement.conditions)
    return " | ".join(said).replace("\N{NO-BREAK SPACE}", " ")


def check(case: Case) -> None:
    judgement = judge_fit(catalog(), case["intended"], case["found"], facts(case))
    said = sentences(judgement)
    assert judgement.outcome == case["outcome"], f"{case['why']} – but: {said}"
    decided = judgement.decided_by.value
    assert case["decided_by"] in ("", decided), f"{decided}: {said}"
    assert case["must_say"].casefold() in said.casefold(), said


@pytest.mark.parametrize("case", PAIRS, ids=name_of)
def test_a_pair(case: Case) -> None:
    check(case)


@pytest.mark.parametrize("case", SOCKETS, ids=name_of)
def test_a_pair_in_a_known_socket(case: Case) -> None:
    check(case)


def test_the_cases_are_many_different_and_sourced() -> None:
    every = [*PAIRS, *SOCKETS]
    assert len({name_of(case) for case in every}) == len(every)
    assert all(case["source"] and case["why"] for case in every)
    assert len(PAIRS) >= 150
    assert len(SOCKETS) >= 25
    outcomes = sorted({case["outcome"] for case in every})
    print(
        f"worked pairs: {len(PAIRS)}, in sockets with facts: {len(SOCKETS)}; outcomes: {', '.join(outcomes)}"
    )
