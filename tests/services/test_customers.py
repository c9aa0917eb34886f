"""A customer's name and contact and a unit's serial are corrected later; every job is found by the new."""

import pytest

from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.errors import UserError
from tubeshelf.services import intake, undo
from tubeshelf.services.customers import Whose
from tubeshelf.services.intake_edit import edit_job
from tubeshelf.services.jobs import list_jobs
from tubeshelf.services.shop import Shop


def correct(shop: Shop, amp: Bench, whose: Whose) -> None:
    job = amp.job()
    edit_job(
        shop,
        job_id=job.id,
        expected_version=job.version,
        complaint=job.complaint,
        scope=job.scope,
        intake_notes=job.intake,
        promised_on=job.promised_on,
        whose=whose,
    )


def found(shop: Shop, text: str) -> list[int]:
    return sorted(job.number for job in list_jobs(shop, find=text, closed=None))


def contact(shop: Shop, amp: Bench) -> str:
    return intake.contact_of(shop, customer_id=amp.job().customer_id)


def test_all_jobs_bear_the_new_name_and_are_found_by_it(shop: Shop) -> None:
    amp = amplifier(shop)
    other, _ = intake.new_job(shop, customer="Ada Brindle", title="loose tubes", complement="1 x 12AX7")
    correct(shop, amp, Whose("  Ada   Bryndle ", "0551 20417\n14 Mill Lane", "30417"))
    assert {job.customer for job in list_jobs(shop)} == {"Ada Bryndle"}
    assert found(shop, "bryndle") == [amp.number, other]
    assert found(shop, "brindle") == []
    assert contact(shop, amp) == "0551 20417\n14 Mill Lane"
    assert [c.name for c in intake.find_customers(shop, find="bryndle")] == ["Ada Bryndle"]


def test_all_jobs_of_the_unit_bear_the_new_serial(shop: Shop) -> None:
    amp, again = amplifier(shop), amplifier(shop)
    correct(shop, amp, Whose("Ada Brindle", "", "30471"))
    assert amp.job().serial == again.job().serial == "30471"
    assert found(shop, "30471") == [amp.number, again.number]
    assert found(shop, "30417") == []


def test_a_correction_is_taken_back_as_one(shop: Shop) -> None:
    amp = amplifier(shop)
    correct(shop, amp, Whose("Ada Bryndle", "0551 20417", "30471"))
    undo.take_back(shop)
    assert (amp.job().customer, contact(shop, amp), amp.job().serial) == ("Ada Brindle", "", "30417")
    assert found(shop, "brindle 30417") == [amp.number]


def test_a_name_that_another_customer_has_is_refused(shop: Shop) -> None:
    amp = amplifier(shop)
    intake.new_job(shop, customer="Ines Halloway", title="loose tubes", complement="1 x 12AX7")
    with pytest.raises(UserError, match="another customer called Ines Halloway"):
        correct(shop, amp, Whose("ines halloway", "", "30417"))
    assert amp.job().customer == "Ada Brindle"


def test_a_serial_that_another_unit_of_the_customer_has_is_refused(shop: Shop) -> None:
    amp = amplifier(shop)
    amplifier(shop, serial="30418")
    with pytest.raises(UserError, match="of this customer has serial 30418 already"):
        correct(shop, amp, Whose("Ada Brindle", "", "30418"))
    assert amp.job().serial == "30417"


def test_without_a_name_nothing_is_kept(shop: Shop) -> None:
    amp = amplifier(shop)
    with pytest.raises(UserError, match="Type the customer's name"):
        correct(shop, amp, Whose(" ", "0551 20417", "1"))
    assert (contact(shop, amp), amp.job().serial) == ("", "30417")


def test_writing_the_name_otherwise_is_no_other_customer(shop: Shop) -> None:
    amp = amplifier(shop)
    correct(shop, amp, Whose("ADA BRINDLE", "", "30417"))
    assert amp.job().customer == "ADA BRINDLE"
