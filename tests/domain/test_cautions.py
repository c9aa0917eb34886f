"""Cautions: a sentence for every code that the shipped table uses, and none lost."""

from dataclasses import replace

import pytest

from tests.domain.tubes import output, twin
from tubeshelf.domain.cautions import caution_text, cautions
from tubeshelf.services.types_lookup import shipped_catalog

CAPPED = output("6BG6", pins="2:heater 3:1.cathode 5:1.grid1 7:heater 8:1.grid2 cap:1.plate")


def test_every_code_of_the_shipped_table_has_a_sentence_of_its_own() -> None:
    codes = {code for tube in shipped_catalog().types() for code in tube.cautions}
    assert codes
    said = [caution_text(code) for code in codes]
    assert len(set(said)) == len(codes)
    assert not [sentence for sentence in said if sentence.startswith("Caution:")]


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ("mercury", "mercury inside"),
        ("radioactive", "radioactive material"),
        ("beryllium", "never break, grind or file"),
        ("xray", "X-rays above several kilovolts"),
        ("top_cap", "top cap is live"),
    ],
)
def test_a_code_says_what_to_mind(code: str, says: str) -> None:
    assert says in caution_text(code)


def test_a_code_of_the_shops_own_is_told_as_it_is() -> None:
    assert caution_text("implodes") == "Caution: implodes."


def test_a_cap_is_live_even_if_no_code_says_so() -> None:
    assert cautions(CAPPED) == [caution_text("top_cap")]


def test_two_types_say_the_same_once_and_an_unknown_one_says_nothing() -> None:
    glowing = twin("12AX7", cautions=("radioactive",))
    both = cautions(glowing, None, replace(CAPPED, cautions=("radioactive", "top_cap")))
    assert both == [caution_text("radioactive"), caution_text("top_cap")]
