"""Spares for a job: which is named, kept, put in, and what happens to what came out."""

from datetime import timedelta

import pytest
from sqlalchemy import select

from tests.records import FixedClock
from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Disposition, JobStatus
from tubeshelf.domain.judging import Mark
from tubeshelf.services import (
    decide,
    intake,
    jobs,
    shelf_moves,
    shelf_reading,
    shelf_search,
    spares,
    undo,
)
from tubeshelf.services.shop import Shop
from tubeshelf.store.tables import Item, Movement


@pytest.fixture
def amp(shop: Shop) -> Bench:
    amp = amplifier(shop)
    amp.found("V3")
    amp.found("V4")
    amp.enter("V3", "3000")
    amp.enter("V4", "3100")
    return amp


def receive(amp: Bench, name: str, reads: tuple[str, ...] = (), **more: object) -> list[int]:
    """Tagged tubes of a type, one a reading (or one unread); their ids."""
    facts: dict[str, object] = {"condition": "used, tested", "bin": "A1", "price": 2000} | more
    made = []
    for reading in reads or ("",):
        ids, _ = shelf_moves.receive(amp.shop, type_name=name, quantity=1, lot=False, **facts)
        if reading:
            shelf_reading.read_spare(
                amp.shop, item_id=ids[0], line_id=None, section="1", tester_id=amp.tester, text=reading
            )
        made.append(ids[0])
    return made


def place(amp: Bench, item_id: int) -> tuple[str, str]:
    with amp.shop.record.reading() as connection:
        row = connection.execute(select(Item.place, Item.place_ref).where(Item.id == item_id)).one()
    return row.place, row.place_ref


def test_nothing_on_the_shelf_is_not_on_hand(amp: Bench) -> None:
    assert amp.at("V3").spare is None
    assert amp.job().not_on_hand == 2
    assert amp.job().waits_for == "readings"


def test_a_pair_gets_the_two_closest_readings(amp: Bench) -> None:
    receive(amp, "6BQ5", ("12000", "9900", "9800", "11000"))
    named = {amp.at("V3").spare.reads, amp.at("V4").spare.reads}  # type: ignore[union-attr]
    assert named == {"9,900", "9,800"}


def test_weak_spares_are_never_named(amp: Bench) -> None:
    receive(amp, "6BQ5", ("6000", "5700"))
    assert amp.at("V3").spare is None


def test_a_plain_tube_before_a_premium_one(amp: Bench) -> None:
    receive(amp, "12AX7", (), premium=True, bin="P1")
    receive(amp, "12AX7", (), bin="B2")
    amp.found("V1", "12AU7")
    spare = amp.at("V1").spare
    assert spare is not None
    assert (spare.bin, spare.premium, spare.verdict) == ("B2", False, "not read")


def test_one_spare_is_named_once(amp: Bench) -> None:
    receive(amp, "12AX7")
    amp.found("V1", "12AU7")
    amp.found("V2", "12AU7")
    assert amp.at("V1").spare is not None
    assert amp.at("V2").spare is None


def test_a_spare_of_a_substitute_type_says_its_conditions(amp: Bench) -> None:
    receive(amp, "5751")
    amp.found("V1", "12AU7")
    spare = amp.at("V1").spare
    assert spare is not None
    assert spare.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert any("gain" in condition for condition in spare.conditions)


def test_installing_moves_the_spare_in_and_the_old_tube_into_the_bag(amp: Bench) -> None:
    one, _ = receive(amp, "6BQ5", ("9900", "9800"))
    old = amp.at("V3").found.item_id or 0
    spares.install(amp.shop, item_id=one, socket_id=amp.id("V3"))
    socket = amp.at("V3")
    assert socket.fitted is not None
    assert socket.fitted.reads == "9,900"
    assert socket.disposition is Disposition.INSTALLED
    assert place(amp, old) == ("bag", "1")
    assert place(amp, one)[0] == "socket"
    assert shelf_search.search(amp.shop).tubes == 1


def test_take_back_puts_both_where_they_were(amp: Bench) -> None:
    (one,) = receive(amp, "6BQ5", ("9900",))
    old = amp.at("V3").found.item_id or 0
    before = place(amp, old)
    spares.install(amp.shop, item_id=one, socket_id=amp.id("V3"))
    undo.take_back(amp.shop)
    assert (place(amp, one), place(amp, old)) == (("shelf", "A1"), before)
    assert amp.at("V3").fitted is None


def test_taking_out_is_an_act_of_its_own_with_movements(amp: Bench) -> None:
    (one,) = receive(amp, "6BQ5", ("9900",), bin="C4")
    spares.install(amp.shop, item_id=one, socket_id=amp.id("V3"))
    spares.take_out(amp.shop, socket_id=amp.id("V3"))
    assert place(amp, one) == ("shelf", "C4")
    with amp.shop.record.reading() as connection:
        moves = connection.scalars(
            select(Movement.to_place).where(Movement.item_id == one).order_by(Movement.id)
        ).all()
    assert moves == ["shelf", "socket", "shelf"]
    with pytest.raises(UserError, match="put no tube into V3"):
        spares.take_out(amp.shop, socket_id=amp.id("V3"))


def test_a_lot_gives_one_tagged_tube(amp: Bench) -> None:
    ids, _ = shelf_moves.receive(
        amp.shop, type_name="5Y3GT", quantity=4, lot=True, condition="NOS", bin="D1", price=1500
    )
    amp.found("V5", "5U4GB")
    spares.install(amp.shop, item_id=ids[0], socket_id=amp.id("V5"))
    fitted = amp.at("V5").fitted
    assert fitted is not None
    assert fitted.tag != ""
    assert shelf_search.search(amp.shop).tubes == 3
    assert amp.job().harm == ()


def test_a_harmful_or_unseatable_tube_is_not_installed(amp: Bench) -> None:
    (big,) = receive(amp, "5U4GB")
    (octal,) = receive(amp, "6SN7GT")
    with pytest.raises(UserError, match=r"does harm in V5.*3 A"):
        spares.install(amp.shop, item_id=big, socket_id=amp.id("V5"))
    with pytest.raises(UserError, match="does not seat in V1"):
        spares.install(amp.shop, item_id=octal, socket_id=amp.id("V1"))
    assert place(amp, big) == ("shelf", "A1")


def test_a_promised_spare_is_kept_for_its_socket(amp: Bench) -> None:
    one, two = receive(amp, "6BQ5", ("9900", "9800"))
    spares.promise(amp.shop, item_id=one, socket_id=amp.id("V4"))
    spare = amp.at("V4").spare
    assert spare is not None
    assert (spare.item_id, spare.here) == (one, True)
    other = amplifier(amp.shop, serial="2")
    other.found("V3")
    with pytest.raises(UserError, match="promised to job 1"):
        spares.install(amp.shop, item_id=one, socket_id=other.id("V3"))
    with pytest.raises(UserError, match="promised to job 1"):
        spares.promise(amp.shop, item_id=one, socket_id=other.id("V3"))
    spares.release(amp.shop, item_id=one, job_id=amp.job().id)
    spares.promise(amp.shop, item_id=one, socket_id=other.id("V3"))
    assert two in {s.item_id for s in spares.spares_for(amp.shop, socket_id=amp.id("V3"))}


def test_a_tube_scrapped_in_the_other_window_cannot_be_promised(amp: Bench) -> None:
    (one,) = receive(amp, "6BQ5", ("9900",))
    shelf_moves.scrap(amp.shop, item_id=one, reason="dropped")
    with pytest.raises(UserError, match="scrapped"):
        spares.promise(amp.shop, item_id=one, socket_id=amp.id("V3"))


def test_a_socket_is_not_filled_twice(amp: Bench) -> None:
    one, two = receive(amp, "6BQ5", ("9900", "9800"))
    spares.install(amp.shop, item_id=one, socket_id=amp.id("V3"))
    with pytest.raises(UserError, match="take it out first"):
        spares.install(amp.shop, item_id=two, socket_id=amp.id("V3"))


def test_an_installed_substitute_keeps_its_conditions(amp: Bench) -> None:
    (other,) = receive(amp, "5751")
    amp.found("V1", "12AU7")
    spares.install(amp.shop, item_id=other, socket_id=amp.id("V1"))
    fitted = amp.at("V1").fitted
    assert fitted is not None
    assert fitted.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert fitted.conditions != ()


def test_an_old_job_keeps_saying_what_the_tube_read_then(amp: Bench, clock: FixedClock) -> None:
    one, _ = receive(amp, "6BQ5", ("9900", "9800"))
    spares.install(amp.shop, item_id=one, socket_id=amp.id("V3"))
    decide.set_status(amp.shop, job_id=amp.job().id, status=JobStatus.HANDED_BACK)
    clock.advance(timedelta(days=200))
    number, _ = intake.new_job(
        amp.shop, customer="Ada Brindle", maker="Larkmere", model="A12", serial="30417"
    )
    back = Bench(amp.shop, number, amp.tester)
    back.found("V3")
    assert back.at("V3").found.item_id == one
    back.enter("V3", "3000", confirmed=True)
    back.mark("V3", Mark.GAS)
    fitted = amp.at("V3").fitted
    assert fitted is not None
    assert (fitted.reads, fitted.verdict) == ("9,900", "good")
    (past,) = jobs.place_history(amp.shop, socket_id=back.id("V3"))
    assert (past.reads, past.verdict, past.fitted) == ("9,900", "good", True)


def test_the_rest_of_a_lot_stays_promised(amp: Bench) -> None:
    (lot,), _ = shelf_moves.receive(
        amp.shop, type_name="5Y3GT", quantity=4, lot=True, condition="NOS", bin="D1", price=1500
    )
    spares.promise(amp.shop, item_id=lot, job_id=amp.job().id, quantity=2)
    amp.found("V5", "5U4GB")
    spares.install(amp.shop, item_id=lot, socket_id=amp.id("V5"))
    (row,) = [row for row in shelf_search.search(amp.shop).rows if row.lot]
    assert (row.quantity, row.promised) == (3, 1)
