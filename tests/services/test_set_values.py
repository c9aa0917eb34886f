"""Values measured in the set: fields of a model, values of a job, each an act; on a file and on a server."""

import pytest

from tests.records import FixedClock
from tests.services.benchwork import AMPLIFIER, Bench, amplifier
from tests.services.shelfwork import tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Disposition, JobStatus
from tubeshelf.domain.set_fields import PROPOSED, Quantity, SetField
from tubeshelf.services import bench, decide, intake, jobs, papers, spares
from tubeshelf.services.changes import Kind
from tubeshelf.services.set_fields import save_set_fields, set_fields
from tubeshelf.services.set_values import measured_in, set_value
from tubeshelf.services.shop import Shop
from tubeshelf.services.undo import do_again, take_back
from tubeshelf.services.views.measured import SetView
from tubeshelf.store.journal import ChangedElsewhere

FIXED = AMPLIFIER.replace("6BQ5 =A", "6BQ5 fixed =A")
"""The same amplifier with the bias of its output tubes from a supply of its own."""


class Set:
    """One job, its model's fields, and short ways to measure."""

    def __init__(self, bench: Bench, fields: tuple[SetField, ...] = tuple(PROPOSED)) -> None:
        self.bench, self.shop = bench, bench.shop
        job = bench.job()
        assert job.model_id is not None
        self.job_id, self.model_id = job.id, job.model_id
        save_set_fields(self.shop, model_id=self.model_id, fields=fields)

    @property
    def view(self) -> SetView:
        return measured_in(self.shop, job_id=self.job_id)

    def field(self, name: str) -> SetField:
        return next(f for f in set_fields(self.shop, model_id=self.model_id) if f.name == name)

    def measure(self, name: str, text: str, position: str = "") -> None:
        socket_id = self.bench.id(position) if position else None
        field_id = self.field(name).id
        assert field_id is not None
        set_value(self.shop, job_id=self.job_id, field_id=field_id, socket_id=socket_id, text=text)

    def values(self) -> dict[str, float | None]:
        return {one.name: one.value for one in self.view.values}


@pytest.fixture
def amp(shop: Shop) -> Set:
    return Set(amplifier(shop, complement=FIXED))


def test_a_model_has_no_fields_until_somebody_says_so(shop: Shop) -> None:
    job = amplifier(shop).job()
    assert job.model_id is not None
    assert set_fields(shop, model_id=job.model_id) == ()
    assert measured_in(shop, job_id=job.id).values == ()


def test_the_fields_of_each_output_tube_are_asked_for_at_the_output_tubes(amp: Set) -> None:
    assert list(amp.values()) == [
        "Line",
        "B+",
        "Bias",
        "Cathode current V3",
        "Cathode current V4",
        "Burn-in",
    ]
    assert amp.view.missing == 6


def test_values_dissipation_and_difference(amp: Set) -> None:
    for name, text, position in (
        ("Line", "117,5", ""),
        ("B+", "320 V", ""),
        ("Bias", "-11.5", ""),
        ("Cathode current", "36", "V3"),
        ("Cathode current", "40", "V4"),
    ):
        amp.measure(name, text, position)
    view = amp.view
    assert (view.missing, view.any_measured) == (1, True)
    assert amp.values()["Line"] == 117.5
    third, fourth = view.outputs
    # 36 mA × 320 V = 11.52 W and 40 mA × 320 V = 12.8 W, of the 12 W of a 6BQ5 (Philips handbook).
    assert third.text == "at most 11.5 W of 12 W plate rating, 96 %"
    assert third.reckoning.startswith("36 mA × 320 V")
    assert "B+ taken for the plate's volts" in third.reckoning
    assert third.over == ""
    assert fourth.text == "at most 12.8 W of 12 W plate rating, 107 %"
    assert fourth.over.startswith("over its rating unless the screen takes the difference")
    assert "the plate current tells" in view.advice
    assert "first with the current limited" in view.advice
    assert view.differences == ("V3 and V4 are 4 mA apart, 10.5 %",)


def test_a_correction_supersedes_and_the_same_again_is_no_act(amp: Set) -> None:
    amp.measure("B+", "320")
    amp.measure("B+", "312")
    assert amp.values()["B+"] == 312.0
    field_id = amp.field("B+").id
    assert field_id is not None
    _, changes = set_value(amp.shop, job_id=amp.job_id, field_id=field_id, text="312.0 V")
    assert changes is None
    assert "312 V" in take_back(amp.shop).said
    assert amp.values()["B+"] == 320.0
    take_back(amp.shop)
    assert amp.values()["B+"] is None
    do_again(amp.shop)
    assert amp.values()["B+"] == 320.0


def test_zero_is_a_value_and_nothing_strikes_one(amp: Set) -> None:
    amp.measure("Cathode current", "0", "V4")
    assert amp.values()["Cathode current V4"] == 0.0
    assert amp.view.missing == 5
    amp.measure("Cathode current", " ", "V4")
    assert amp.values()["Cathode current V4"] is None
    assert "struck" in take_back(amp.shop).said


def test_each_value_says_what_it_was_and_which_job_it_touches(amp: Set) -> None:
    field_id = amp.field("Cathode current").id
    assert field_id is not None
    _, changes = set_value(
        amp.shop,
        job_id=amp.job_id,
        field_id=field_id,
        socket_id=amp.bench.id("V3"),
        text="36",
        origin="bench",
    )
    assert changes is not None
    assert changes.said == "Cathode current V3: 36 mA, job 1"
    assert changes.touches(Kind.JOB, amp.job_id)
    assert changes.origin == "bench"


def test_a_value_is_refused_where_it_is_not_asked_for(amp: Set) -> None:
    with pytest.raises(UserError, match="not asked for any more"):
        amp.measure("Cathode current", "36", "V1")
    with pytest.raises(UserError, match="not asked for any more"):
        amp.measure("B+", "320", "V3")
    with pytest.raises(UserError, match="below zero"):
        amp.measure("B+", "-320")
    assert not amp.view.any_measured


def test_a_closed_job_keeps_what_was_measured_and_takes_no_more(amp: Set) -> None:
    amp.measure("B+", "320")
    decide.set_status(amp.shop, job_id=amp.job_id, status=JobStatus.HANDED_BACK)
    with pytest.raises(UserError, match="is closed"):
        amp.measure("B+", "300")
    assert amp.values()["B+"] == 320.0


def test_the_next_unit_of_the_model_is_asked_the_same_and_has_its_own_values(amp: Set) -> None:
    amp.measure("B+", "320")
    number, _ = intake.new_job(amp.shop, customer="Otto Vane", maker="Larkmere", model="A12", serial="30500")
    view = measured_in(amp.shop, job_id=jobs.open_job(amp.shop, number=number).id)
    assert [one.name for one in view.values] == [one.name for one in amp.view.values]
    assert not view.any_measured


def test_a_box_of_loose_tubes_is_in_no_set(shop: Shop) -> None:
    number, _ = intake.new_job(shop, customer="Ada", title="shoebox", complement="V1 output 6BQ5")
    view = measured_in(shop, job_id=jobs.open_job(shop, number=number).id)
    assert (view.model_id, view.values, view.outputs) == (None, (), ())


# ---- The tube that stands there


def test_the_rating_is_that_of_the_tube_that_stands_there_now(shop: Shop, tick: FixedClock) -> None:
    amp = Set(amplifier(shop, complement="V1 output 6V6GT fixed"))
    amp.measure("B+", "400")
    amp.measure("Cathode current", "50", "V1")
    assert amp.view.outputs[0].text == "at most 20 W of 12 W plate rating, 167 %"
    amp.bench.found("V1", "6L6GC")
    assert amp.view.outputs[0].text == "at most 20 W of 30 W plate rating, 67 %"
    spares.install(shop, item_id=tube(shop, "6V6GT"), socket_id=amp.bench.id("V1"))
    assert amp.view.outputs[0].designation == "6V6GT"
    spares.take_out(shop, socket_id=amp.bench.id("V1"))
    bench.set_disposition(shop, socket_id=amp.bench.id("V1"), disposition=Disposition.EMPTY_ON_PURPOSE)
    assert amp.view.outputs == ()


def test_cathode_bias_is_taken_off_the_plates_volts(shop: Shop) -> None:
    amp = Set(amplifier(shop, complement=FIXED.replace("fixed", "cathode")))
    amp.measure("B+", "257.2")
    amp.measure("Cathode current", "48", "V3")
    assert "bias not measured" in amp.view.outputs[0].reckoning
    amp.measure("Bias", "7.2")
    assert amp.view.outputs[0].text == "at most 12 W of 12 W plate rating, 100 %"
    assert "(257 − 7.2) V" in amp.view.outputs[0].reckoning


def test_the_plates_own_volts_and_current_count_before_those_of_the_supply(shop: Shop) -> None:
    own = (
        *PROPOSED,
        SetField("At the plate", "V", Quantity.PLATE_V, per_socket=True),
        SetField("Plate current", "mA", Quantity.PLATE_MA, per_socket=True),
    )
    amp = Set(amplifier(shop, complement=FIXED), own)
    amp.measure("B+", "320")
    amp.measure("Cathode current", "40", "V3")
    amp.measure("At the plate", "310", "V3")
    amp.measure("Plate current", "36", "V3")
    # 36 mA × 310 V = 11.16 W.
    assert amp.view.outputs[0].text == "11.2 W of 12 W plate rating, 93 %"
    assert amp.view.outputs[0].reckoning == "36 mA × 310 V"


ONCE = (SetField("B+", "V", Quantity.PLATE_V), SetField("Ik", "mA", Quantity.CATHODE_MA))


def test_a_current_measured_once_is_that_of_a_single_output_tube(shop: Shop) -> None:
    amp = Set(amplifier(shop, complement="V1 output 6V6GT fixed"), ONCE)
    amp.measure("B+", "250")
    amp.measure("Ik", "40")
    assert amp.view.outputs[0].text == "at most 10 W of 12 W plate rating, 83 %"


def test_a_current_measured_once_is_nobodys_in_a_pair(shop: Shop) -> None:
    amp = Set(amplifier(shop, complement=FIXED), ONCE)
    amp.measure("B+", "250")
    amp.measure("Ik", "80")
    assert [one.text for one in amp.view.outputs] == ["", ""]


def test_a_current_without_plate_volts_says_what_is_missing(amp: Set) -> None:
    amp.measure("Cathode current", "40", "V3")
    assert [one.text for one in amp.view.outputs] == ["plate volts not measured", ""]


# ---- Changing the fields


def test_another_name_or_order_keeps_the_values(amp: Set) -> None:
    amp.measure("B+", "320")
    line, plate, *rest = set_fields(amp.shop, model_id=amp.model_id)
    renamed = SetField("HT", "V", plate.quantity, plate.per_socket, plate.id, plate.version)
    saved, changes = save_set_fields(amp.shop, model_id=amp.model_id, fields=(renamed, line, *rest))
    assert [f.name for f in saved[:2]] == ["HT", "Line"]
    assert changes.touches(Kind.MODEL, amp.model_id)
    assert amp.values()["HT"] == 320.0


def test_another_unit_begins_anew_and_the_old_value_keeps_its_own(shop: Shop) -> None:
    amp = Set(amplifier(shop, complement=FIXED), (SetField("Hum", "mV"),))
    amp.measure("Hum", "12")
    (hum,) = set_fields(shop, model_id=amp.model_id)
    changed = SetField("Hum", "dB", hum.quantity, hum.per_socket, hum.id, hum.version)
    save_set_fields(shop, model_id=amp.model_id, fields=(changed,))
    assert [(one.text, one.asked) for one in amp.view.values] == [("", True), ("12 mV", False)]
    take_back(shop)
    assert [(one.text, one.asked) for one in amp.view.values] == [("12 mV", True)]


def test_a_field_that_nobody_used_changes_in_place(shop: Shop) -> None:
    amp = Set(amplifier(shop, complement=FIXED), (SetField("Hum", "mV"),))
    (hum,) = set_fields(shop, model_id=amp.model_id)
    save_set_fields(
        shop, model_id=amp.model_id, fields=(SetField("Hum", "dB", id=hum.id, version=hum.version),)
    )
    (after,) = set_fields(shop, model_id=amp.model_id)
    assert (after.id, after.unit) == (hum.id, "dB")


def test_a_dropped_field_is_not_asked_for_and_what_it_said_stays(amp: Set) -> None:
    amp.measure("Burn-in", "24")
    *kept, hours = set_fields(amp.shop, model_id=amp.model_id)
    assert hours.id is not None
    save_set_fields(amp.shop, model_id=amp.model_id, fields=kept, dropped=(hours.id,))
    last = amp.view.values[-1]
    assert (last.name, last.text, last.asked) == ("Burn-in", "24 h", False)
    assert amp.view.missing == 5


def test_two_benches_do_not_overwrite_each_other(amp: Set) -> None:
    line, *rest = set_fields(amp.shop, model_id=amp.model_id)
    mains = SetField("Mains", "V", line.quantity, id=line.id, version=line.version)
    save_set_fields(amp.shop, model_id=amp.model_id, fields=(mains, *rest))
    with pytest.raises(ChangedElsewhere):
        save_set_fields(
            amp.shop,
            model_id=amp.model_id,
            fields=(SetField("AC in", "V", line.quantity, id=line.id, version=line.version), *rest),
        )
    assert set_fields(amp.shop, model_id=amp.model_id)[0].name == "Mains"


def test_values_and_fields_are_taken_back_and_done_again_in_order(amp: Set) -> None:
    amp.measure("B+", "320")
    take_back(amp.shop)  # the value
    take_back(amp.shop)  # the fields
    assert set_fields(amp.shop, model_id=amp.model_id) == ()
    do_again(amp.shop)
    do_again(amp.shop)
    assert amp.values()["B+"] == 320.0


# ---- On paper


def test_the_statement_tells_what_was_measured_and_nothing_where_nothing_was(amp: Set) -> None:
    assert papers.statement(amp.shop, job_id=amp.job_id).measured == ()
    for name, text, position in (
        ("Line", "117,5", ""),
        ("B+", "320", ""),
        ("Cathode current", "36", "V3"),
        ("Cathode current", "0", "V4"),
    ):
        amp.measure(name, text, position)
    assert papers.statement(amp.shop, job_id=amp.job_id).measured == (
        ("Line", "117.5 V"),
        ("B+", "320 V"),
        ("Cathode current", "V3 36 mA · V4 0 mA"),
        (
            "Dissipation",
            "V3 6BQ5: at most 11.5 W of 12 W plate rating, 96 %\n"
            "V4 6BQ5: at most 0 W of 12 W plate rating, 0 %",
        ),
        ("Balance", "V3 and V4 are 36 mA apart, 200 %"),
    )
