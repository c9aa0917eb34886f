"""The estimate on paper says what the decision sheet says."""

from datetime import date

from tests.services.benchwork import amplifier
from tests.services.test_decision import ready
from tubeshelf.domain.jobs import Answer
from tubeshelf.services import answers, decide, intake_edit
from tubeshelf.services.estimates import estimate_paper
from tubeshelf.services.shop import Shop, ShopSettings, save_settings


def test_it_says_what_is_proposed_at_which_price_and_what_was_answered(shop: Shop) -> None:
    save_settings(shop, settings=ShopSettings(currency="EUR", estimate_days=30))
    amp = ready(shop)
    job_id = amp.job().id
    decide.set_labour(shop, job_id=job_id, minor=4500)
    answers.set_answer(shop, socket_id=amp.id("V4"), answer=Answer.DECLINED, how="in person")
    decide.approve(shop, job_id=job_id, who="Ada Brindle", on=date(2026, 3, 2), how="in person", ceiling=6000)
    paper = estimate_paper(shop, job_id=job_id)
    lines = {line.position: line for line in paper.lines}
    assert (lines["V1"].proposed, lines["V1"].price, lines["V1"].asked) == ("keep", "", False)
    assert (lines["V2"].proposed, lines["V2"].claimed) == ("replace with 12AX7", "NOS")
    assert lines["V2"].price == "EUR 24.00"
    assert (lines["V3"].price, lines["V3"].reading) == ("not priced yet", "9,900")
    assert (lines["V4"].price, lines["V4"].answer) == ("", Answer.DECLINED)
    assert lines["V4"].answered == "declined in person on 2 Mar 2026"
    assert (paper.tubes, paper.labour, paper.total) == ("EUR 24.00", "EUR 45.00", "EUR 69.00")
    assert paper.ceiling == "EUR 60.00"
    assert paper.over == "EUR 9.00"
    assert paper.valid_until == date(2026, 4, 1)
    assert paper.approval == "Approved by Ada Brindle in person on 2 Mar 2026, up to EUR 60.00."
    assert paper.notes == (
        "The total is without 2 tubes that have no price yet.",
        "V3 and V4 are a matched group and decided apart.",
    )
    assert paper.warnings == ("V4: short, pins 2–3.",)


def test_what_is_not_decided_names_the_price_if_replaced(shop: Shop) -> None:
    amp = ready(shop)
    amp.found("V2")
    (line,) = [line for line in estimate_paper(shop, job_id=amp.job().id).lines if line.position == "V2"]
    assert line.proposed == "not decided; 12AX7 if replaced, 24.00"
    assert line.price == ""


def test_types_with_a_caution_bring_it_along(shop: Shop) -> None:
    amp = amplifier(shop)
    assert estimate_paper(shop, job_id=amp.job().id).cautions == ()
    intake_edit.set_modified(shop, socket_id=amp.id("V5"), type_name="83")
    cautions = estimate_paper(shop, job_id=amp.job().id).cautions
    assert cautions == ("Possible mercury inside: keep it boxed, never break it.",)


def test_without_a_term_it_holds_until_somebody_writes_a_day(shop: Shop) -> None:
    assert estimate_paper(shop, job_id=amplifier(shop).job().id).valid_until is None
