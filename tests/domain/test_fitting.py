import re
from pathlib import Path

import pytest

import tubeshelf.domain
from tests.domain.tubes import judged, output, rectifier, serves, twin
from tubeshelf.domain.fit_words import TEMPLATES
from tubeshelf.domain.fitting import Check, Outcome, check_of


def test_every_sentence_belongs_to_a_check_and_every_rule_in_the_code_has_a_sentence() -> None:
    for rule in TEMPLATES:
        assert check_of(rule) in Check
    code = "".join(path.read_text("utf-8") for path in Path(tubeshelf.domain.__path__[0]).glob("fit*.py"))
    assert set(re.findall(r'Reason\(\s*"(\w+)"', code)) <= set(TEMPLATES)


def test_a_rule_that_there_is_not_has_no_check() -> None:
    with pytest.raises(KeyError):
        check_of("never")


def test_the_check_that_decided_is_that_of_the_worst_reason() -> None:
    ax, burnt = twin("12AX7"), twin("6DJ8", "6.3/0.3 4-5", nine="shield", figures={"mu": 33.0})
    assert judged(ax, ax).decided_by is Check.KNOWN
    assert judged(ax, burnt).decided_by is Check.HEATER
    assert judged(ax, burnt, heater_pins="4+5-9").decided_by is Check.HEATER
    assert judged(ax, output("6V6GT")).decided_by is Check.BASE
    assert judged(ax, twin("12AU7", figures={"mu": 17.0})).decided_by is Check.FUNCTION
    assert judged(ax, twin("7025"), serves(ax, twin("7025"))).decided_by is Check.LISTING
    assert judged(rectifier("A"), rectifier("B", dc_ma=90.0)).decided_by is Check.RATINGS
    screened = output(
        "7027A", pins="1:1.grid2 2:heater 3:1.plate 4:1.grid2 5:1.grid1 6:nc 7:heater 8:1.cathode"
    )
    assert judged(output("6L6GC"), screened).decided_by is Check.PINS


def test_severity_follows_the_order_of_the_outcomes() -> None:
    assert [outcome.severity for outcome in Outcome] == list(range(len(Outcome)))
