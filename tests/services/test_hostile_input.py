"""Whatever is typed or pasted into a field is either kept as it is or refused with a sentence, in a file
and on a server."""

from collections.abc import Callable
from datetime import date

import pytest
from sqlalchemy import text

from tests.services.benchwork import Bench, amplifier
from tests.services.shelfwork import tube
from tubeshelf.domain.comeback import SameTube
from tubeshelf.domain.errors import LONGEST, UserError
from tubeshelf.domain.jobs import Action, Answer, Condition
from tubeshelf.domain.judging import Limit, Mark, Stage
from tubeshelf.services import (
    answers,
    bench,
    comeback,
    cover,
    decide,
    estimates,
    find,
    finding,
    intake,
    intake_edit,
    jobs,
    orders,
    papers,
    setting_lines,
    shelf_edit,
    shelf_moves,
    shelf_search,
    testers,
    types,
    types_edit,
)
from tubeshelf.services.customers import Whose
from tubeshelf.services.shop import Shop, ShopSettings, save_settings
from tubeshelf.services.undo import take_back
from tubeshelf.store.record import Record

TEXTS = {
    "nul": "a\0b",
    "half a surrogate": "a\ud83d b",
    "long": "x" * 100_000,
    "many words": "12AX7 " * 5_000,
    "odd": "\u202e\u202bשלום\u202c 👩‍🔧 a\nb\r\nc\u2028d \x01\x1b[31m",
    "code": "=1+1 <b>x</b>&amp;<img src='file:///x'> '; DROP TABLE job; -- %_\\%",
    "unseen": "\u200b",
    "blank": "  ",
}

Try = Callable[[Shop, Bench, str], object]


def job_id(shop: Shop, b: Bench) -> int:
    return jobs.open_job(shop, number=b.number).id


def edit_job(shop: Shop, b: Bench, text: str) -> object:
    job = jobs.open_job(shop, number=b.number)
    return intake_edit.edit_job(
        shop,
        job_id=job.id,
        expected_version=job.version,
        complaint=text,
        scope=text,
        intake_notes=text,
        promised_on=date.max,
        comeback_note=text,
        whose=Whose(text, text, text),
    )


def type_id(shop: Shop, name: str) -> int:
    found = shop.book.id_of(name)
    assert found is not None
    return found


WRITES: dict[str, Try] = {
    "new job": lambda shop, b, t: intake.new_job(
        shop,
        customer=t,
        contact=t,
        maker=t,
        model=t,
        serial=t,
        title=t,
        complaint=t,
        scope=t,
        intake_notes=t,
        complement="V1 input 12AX7",
    ),
    "complement": lambda shop, b, t: intake_edit.edit_complement(shop, job_id=job_id(shop, b), text=t),
    "role": lambda shop, b, t: intake.new_job(shop, customer="A", title="B", complement=f"V1 {t} 12AX7"),
    "position": lambda shop, b, t: intake.new_job(shop, customer="A", title="B", complement=f"{t} in 12AX7"),
    "edit job": edit_job,
    "modified": lambda shop, b, t: intake_edit.set_modified(
        shop, socket_id=b.id("V1"), type_name="12AU7", note=t
    ),
    "modified type": lambda shop, b, t: intake_edit.set_modified(shop, socket_id=b.id("V1"), type_name=t),
    "found": lambda shop, b, t: finding.set_found(
        shop, socket_id=b.id("V1"), text=t, believed="12AX7", reason=t
    ),
    "believed": lambda shop, b, t: finding.set_found(shop, socket_id=b.id("V1"), text="12AX7", believed=t),
    "unreadable": lambda shop, b, t: finding.set_unreadable(shop, socket_id=b.id("V2"), believed=t, reason=t),
    "reading": lambda shop, b, t: b.enter("V3", t),
    "measured": lambda shop, b, t: bench.observe(
        shop, socket_id=b.id("V3"), stage=Stage.AS_FOUND, mark=Mark.LEAKAGE, is_fault=True, value=t
    ),
    "pins": lambda shop, b, t: b.mark("V3", Mark.SHORT, pins=t),
    "why": lambda shop, b, t: bench.set_action(shop, socket_id=b.id("V1"), action=Action.REPLACE, why=t),
    "approval": lambda shop, b, t: decide.approve(
        shop, job_id=job_id(shop, b), who=t, on=date.min, how=t, ceiling=0, note=t
    ),
    "answer": lambda shop, b, t: answers.set_answer(
        shop, socket_id=b.id("V1"), answer=Answer.AGREED, how=t, on=date.min
    ),
    "same tube": lambda shop, b, t: comeback.set_same(
        shop, socket_id=b.id("V1"), answer=SameTube.CANT_TELL, note=t
    ),
    "tag read": lambda shop, b, t: comeback.read_tag(shop, socket_id=b.id("V1"), left_tag=t, text=t),
    "cover": lambda shop, b, t: cover.set_cover(shop, job_id=job_id(shop, b), covered=False, why=t),
    "received": lambda shop, b, t: shelf_moves.receive(
        shop,
        type_name="12AX7",
        bin=t,
        condition=Condition.NOS,
        marked=t,
        brand=t,
        date_code=t,
        construction=t,
        source=t,
        note=t,
    ),
    "received type": lambda shop, b, t: shelf_moves.receive(shop, type_name=t, bin="A1"),
    "condition": lambda shop, b, t: shelf_moves.receive(shop, type_name="12AX7", bin="A1", condition=t),
    "edit item": lambda shop, b, t: shelf_edit.edit_item(
        shop, item_id=tube(shop), expected_version=1, brand=t, note=t, source=t, marked=t, date_code=t
    ),
    "move": lambda shop, b, t: shelf_moves.move(shop, item_id=tube(shop), bin=t),
    "tester": lambda shop, b, t: testers.save_tester(
        shop, fields={"name": t, "method": "emission", "unit": t, "note": t, "field_names": t}
    ),
    "tester's figures": lambda shop, b, t: testers.save_tester(
        shop,
        fields=dict.fromkeys(("name", "method", "full_scale", "words", "relative_percent", "checked_on"), t),
    ),
    "new type": lambda shop, b, t: types_edit.copy_type(shop, type_id=type_id(shop, "12AX7"), designation=t),
    "type's facts": lambda shop, b, t: types_edit.save_type(
        shop,
        key="12AX7",
        fields=dict.fromkeys(("equivalents", "function", "base", "basing", "pins", "heaters", "sections"), t),
    ),
    "type's note": lambda shop, b, t: types_edit.save_type(shop, key="12AX7", fields={"note": t}),
    "substitute": lambda shop, b, t: types_edit.save_substitute(
        shop,
        intended_id=type_id(shop, "12AX7"),
        found_id=type_id(shop, "12AU7"),
        grade=2,
        conditions=t,
        note=t,
    ),
    "setting line": lambda shop, b, t: setting_lines.save_line(
        shop,
        tester_id=b.tester,
        type_id=type_id(shop, "6BQ5"),
        label=t,
        quantity=t,
        fields={"heater": t},
        limit=Limit(5.0, 3.0, source=t),
    ),
    "section": lambda shop, b, t: setting_lines.save_line(
        shop, tester_id=b.tester, type_id=type_id(shop, "12AX7"), section=t, fields={t: t}
    ),
    "settings": lambda shop, b, t: save_settings(
        shop, settings=ShopSettings(name=t, address=t, currency=t, old_tubes=t, warranty=t)
    ),
}


def refusal(act: Callable[[], object]) -> str:
    """The sentence with which an act is refused; empty if it is not."""
    try:
        act()
    except UserError as error:
        return error.sentence
    return ""


QUESTIONS: dict[str, Try] = {
    "anything": lambda shop, b, t: find.find_anything(shop, text=t),
    "shelf": lambda shop, b, t: shelf_search.search(shop, find=t),
    "jobs": lambda shop, b, t: jobs.list_jobs(shop, find=t, closed=None),
    "types": lambda shop, b, t: types.list_types(shop, find=t),
    "customers": lambda shop, b, t: intake.find_customers(shop, find=t),
    "models": lambda shop, b, t: intake.find_models(shop, find=t),
    "tag": lambda shop, b, t: shelf_search.find_tag(shop, tag=t),
}

SHOWN: dict[str, Try] = {
    "job": lambda shop, b, t: [jobs.open_job(shop, job_id=head.id) for head in jobs.list_jobs(shop)],
    "retube list": lambda shop, b, t: papers.retube_list(shop, job_id=job_id(shop, b)),
    "statement": lambda shop, b, t: papers.statement(shop, job_id=job_id(shop, b)),
    "estimate": lambda shop, b, t: estimates.estimate_paper(shop, job_id=job_id(shop, b)),
    "orders": lambda shop, b, t: (papers.order_paper(shop), orders.waiting_for(shop)),
}


@pytest.mark.parametrize("which", TEXTS)
def test_any_text_in_any_field_is_kept_or_refused(shop: Shop, which: str) -> None:
    b = amplifier(shop)
    b.found("V3")
    for name, act in (WRITES | QUESTIONS | SHOWN).items():
        sentence = refusal(lambda act=act: act(shop, b, TEXTS[which]))  # type: ignore[misc]
        assert len(sentence) <= LONGEST, name
        assert not (sentence and name in SHOWN), name
    taken_back = 0
    while not refusal(lambda: take_back(shop)):
        taken_back += 1
    assert taken_back >= 4


@pytest.mark.parametrize("which", ["long", "odd", "code"])
def test_text_that_is_kept_is_kept_to_the_letter_and_found(shop: Shop, which: str) -> None:
    typed = TEXTS[which]
    number, _ = intake.new_job(shop, customer=typed, title="box", complaint=typed)
    tube(shop)
    job = jobs.open_job(shop, number=number)
    assert (job.customer, job.complaint) == (" ".join(typed.split()), typed)
    assert number in [head.number for head in jobs.list_jobs(shop, find=typed)]
    assert job.customer in [customer.name for customer in intake.find_customers(shop, find=typed)]


@pytest.mark.parametrize(
    ("amount", "sentence"),
    [(-1, "is below zero: type 0 or more, or leave it empty"), (2**31, "is more than can be kept")],
)
def test_money_is_never_negative_nor_more_than_a_column_holds(shop: Shop, amount: int, sentence: str) -> None:
    b = amplifier(shop)
    the_job = job_id(shop, b)
    acts: tuple[Callable[[], object], ...] = (
        lambda: decide.set_labour(shop, job_id=the_job, minor=amount),
        lambda: decide.approve(
            shop, job_id=the_job, who="Ada Brindle", on=shop.today, how="by phone", ceiling=amount
        ),
        lambda: shelf_moves.receive(shop, type_name="12AX7", bin="A1", price=amount),
        lambda: shelf_moves.receive(shop, type_name="12AX7", bin="A1", cost=amount),
    )
    for act in acts:
        with pytest.raises(UserError, match=sentence):
            act()


def test_a_number_of_tubes_that_no_shelf_holds_is_a_slip(shop: Shop) -> None:
    (lot_id,), _ = shelf_moves.receive(shop, type_name="12AX7", bin="A1", quantity=100_000, lot=True)
    acts: tuple[Callable[[], object], ...] = (
        lambda: shelf_moves.receive(shop, type_name="12AX7", bin="A1", quantity=10**12, lot=True),
        lambda: shelf_moves.count_lot(shop, item_id=lot_id, counted=100_001),
        lambda: shelf_edit.set_par(shop, type_id=type_id(shop, "12AX7"), quantity=10**12),
    )
    for act in acts:
        with pytest.raises(UserError, match="is more than a shelf holds: type at most 100,000"):
            act()


def test_a_number_that_a_server_cannot_hold_is_told(server_record: Record) -> None:
    """What no form lets through: the last resort before a trace."""
    too_large = text("INSERT INTO counter (name, value) VALUES ('job', 2147483648)")

    def act() -> None:
        with server_record.act("job") as journal:
            journal.connection.execute(too_large)

    assert refusal(act) == "A number is too large to be saved: type a smaller one."
