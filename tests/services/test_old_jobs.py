"""A closed job keeps saying what it said, whatever is changed afterwards; a new one goes by what is new."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from tests.records import FixedClock
from tests.services.benchwork import Bench, amplifier
from tests.services.shelfwork import tube
from tubeshelf.cli.job import as_object
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit, Outcome
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.domain.judging import Limit
from tubeshelf.services import (
    decide,
    intake_edit,
    papers,
    setting_lines,
    shelf_edit,
    spares,
    testers,
    types_edit,
)
from tubeshelf.services.intake_edit import CircuitPlan
from tubeshelf.services.shop import Shop, ShopSettings, save_settings


def finished(shop: Shop) -> Bench:
    """A job handed back: one tube kept, one replaced, one weak one left to be replaced later."""
    amp = amplifier(shop)
    amp.found("V1")
    amp.enter("V1", "1540")
    amp.enter("V1", "1510", 1)
    amp.found("V2", "12AU7")
    amp.found("V3")
    amp.enter("V3", "6900")
    amp.found("V5", "5U4GB")
    spare = tube(shop, price=2400)
    spares.install(shop, item_id=spare, socket_id=amp.id("V2"))
    decide.set_status(shop, job_id=amp.job().id, status=JobStatus.HANDED_BACK)
    return amp


def told(shop: Shop, amp: Bench) -> object:
    """All that the job says, on screen and on paper."""
    job = amp.job()
    return as_object(job), papers.retube_list(shop, job_id=job.id), papers.statement(shop, job_id=job.id)


def new_price(shop: Shop, amp: Bench) -> None:
    fitted = amp.at("V2").fitted
    assert fitted is not None
    shelf_edit.edit_item(shop, item_id=fitted.item_id, expected_version=2, price=9900)


def new_limits(shop: Shop, amp: Bench) -> None:
    for type_name in ("12AX7", "6BQ5"):
        for line in setting_lines.setting_lines(
            shop, tester_id=amp.tester, type_id=shop.book.id_of(type_name) or 0
        ):
            setting_lines.save_line(
                shop, line_id=line.id, section=line.section, limit=Limit(100_000.0, 90_000.0)
            )


def new_rule(shop: Shop, amp: Bench) -> None:
    (tester,) = testers.list_testers(shop)
    fields = {"name": "Tester B", "method": "transconductance", "unit": "µmho", "full_scale": "15000"}
    testers.save_tester(
        shop,
        tester_id=tester.id,
        expected_version=tester.version,
        fields=fields | {"good_percent": "99", "reject_percent": "98", "relative_percent": "40"},
    )


def new_heater(shop: Shop, amp: Bench) -> None:
    types_edit.save_type(shop, key="12AU7", fields={"heaters": "4/2"})


def new_circuit(shop: Shop, amp: Bench) -> None:
    plan = CircuitPlan("rectifier", Circuit.PARALLEL, ("V5",), volts=5.0, rated_a=9.0)
    model_id = amp.job().model_id
    assert model_id is not None
    intake_edit.set_circuits(shop, model_id=model_id, line_v=None, circuits=(plan,))


CHANGES: dict[str, Callable[[Shop, Bench], object]] = {
    "price": new_price,
    "limits": new_limits,
    "rule": new_rule,
    "heater": new_heater,
    "retired": lambda shop, amp: types_edit.retire_type(
        shop, type_id=shop.book.id_of("12AX7") or 0, retired=True
    ),
    "circuit": new_circuit,
    "spare": lambda shop, amp: tube(shop, "6BQ5", price=100),
    "labour": lambda shop, amp: save_settings(shop, settings=ShopSettings(labour=5000)),
    "modified": lambda shop, amp: intake_edit.set_modified(
        shop, socket_id=amplifier(shop).id("V1"), type_name="12AU7"
    ),
    "complement": lambda shop, amp: intake_edit.edit_complement(
        shop, job_id=amplifier(shop).job().id, text="V1 input 12AU7"
    ),
}


@pytest.mark.parametrize("what", CHANGES)
def test_a_closed_job_keeps_saying_what_it_said(shop: Shop, what: str, clock: FixedClock) -> None:
    amp = finished(shop)
    before = told(shop, amp)
    clock.advance(timedelta(days=1))
    CHANGES[what](shop, amp)
    shop.forget_types()
    clock.advance(timedelta(days=-1))  # a paper bears the day on which it is printed
    assert told(shop, amp) == before


def test_what_is_changed_holds_for_the_next_job(shop: Shop, clock: FixedClock) -> None:
    amp = finished(shop)
    clock.advance(timedelta(days=1))
    new_heater(shop, amp)
    new_rule(shop, amp)
    again = Bench(shop, amplifier(shop).number, amp.tester)
    again.found("V1")
    again.enter("V1", "1540")
    again.enter("V1", "1540", 1)
    again.found("V2", "12AU7")
    fits = again.at("V2").fit, amp.at("V2").fit
    assert [fit and fit.outcome for fit in fits] == [Outcome.HARMFUL, Outcome.WRONG_TYPE]
    assert again.at("V1").verdict.word == "reject"
    assert amp.at("V1").verdict.word == "good"


def test_a_closed_job_asks_for_no_tubes_any_more(shop: Shop) -> None:
    amp = finished(shop)
    job = amp.job()
    assert (job.not_on_hand, job.estimate.unpriced, job.estimate.total) == (0, 0, 2400)
    assert [socket.spare for socket in job.sockets] == [None] * 5
    retube = papers.retube_list(shop, job_id=job.id)
    assert retube.to_order == ()
    assert [(line.position, line.bin) for line in retube.replace if not line.done] == [("V5", "")]
    lines = {line.position: line for line in papers.statement(shop, job_id=job.id).lines}
    assert (lines["V2"].done, lines["V2"].price) == ("replaced", "24.00")
    assert (lines["V5"].done, lines["V5"].price) == ("not replaced", "")


def test_nothing_is_put_into_a_closed_job_before_it_is_open_again(shop: Shop) -> None:
    amp = finished(shop)
    spare = tube(shop)
    with pytest.raises(UserError, match="Job 1 is closed: open it again before putting a tube in"):
        spares.install(shop, item_id=spare, socket_id=amp.id("V1"))
    decide.set_status(shop, job_id=amp.job().id, status=JobStatus.READING)
    spares.install(shop, item_id=spare, socket_id=amp.id("V1"))
    assert amp.at("V1").fitted is not None
