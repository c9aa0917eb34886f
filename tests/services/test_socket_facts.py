"""Facts of sockets, typed behind the type or entered: they go from model to unit to job, and they count."""

from dataclasses import replace

import pytest

from tests.services.benchwork import AMPLIFIER, Bench, amplifier
from tests.services.shelfwork import tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Bias, Circuit, Outcome, SocketFacts
from tubeshelf.domain.heaters import IN_SERIES
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.domain.written_facts import NOTHING_WRITTEN, WrittenFacts
from tubeshelf.services import circuits, decide, facts_edit, intake, intake_edit, jobs, spares
from tubeshelf.services.intake_edit import CircuitPlan
from tubeshelf.services.shop import Shop
from tubeshelf.services.socket_facts import facts_of, socket_row
from tubeshelf.services.undo import take_back

WORDS = "heater=4+5-9 plate=300 screen=250 bias=-14 fixed capacitor=450 ties=1,6"
WRITTEN = WrittenFacts("4+5-9", 300.0, 250.0, Bias.FIXED, -14.0, 450.0, ("1", "6"))


def typed(shop: Shop, words: str = WORDS) -> Bench:
    """The amplifier with facts typed behind the type of V2."""
    line = "V2 phase inverter 12AX7"
    return amplifier(shop, complement=AMPLIFIER.replace(line, f"{line} {words}"))


def rule_facts(bench: Bench, position: str) -> SocketFacts:
    with bench.shop.record.reading() as connection:
        return facts_of(bench.shop, connection, socket_row(connection, bench.id(position)))


@pytest.fixture
def amp(shop: Shop) -> Bench:
    return typed(shop)


def test_typed_facts_are_what_the_rules_get(amp: Bench) -> None:
    assert amp.at("V2").written == WRITTEN
    assert amp.at("V1").written == NOTHING_WRITTEN
    assert rule_facts(amp, "V2") == SocketFacts(
        heater_pins="4+5-9",
        plate_supply_v=300.0,
        screen_supply_v=250.0,
        bias=Bias.FIXED,
        bias_v=-14.0,
        capacitor_v=450.0,
        ties=("1", "6"),
    )
    assert rule_facts(amp, "V1") == SocketFacts()


def test_the_model_gives_them_to_its_next_unit_and_the_unit_to_its_next_job(amp: Bench) -> None:
    (model,) = intake.find_models(amp.shop)
    assert f"V2 phase inverter 12AX7 {WORDS}\n" in model.complement
    for serial in ("30500", "30417"):
        number, _ = intake.new_job(
            amp.shop, customer="Ada Brindle", maker="Larkmere", model="A12", serial=serial
        )
        assert Bench(amp.shop, number, amp.tester).at("V2").written == WRITTEN


def test_plain_lines_of_a_known_model_do_not_forget_them(amp: Bench) -> None:
    number, _ = intake.new_job(
        amp.shop, customer="Otto Fenn", maker="Larkmere", model="A12", serial="7", complement=AMPLIFIER
    )
    assert Bench(amp.shop, number, amp.tester).at("V2").written == WRITTEN
    other = AMPLIFIER.replace("V2 phase inverter 12AX7", "V2 phase inverter 6SN7GT")
    number, _ = intake.new_job(
        amp.shop, customer="Otto Fenn", maker="Larkmere", model="A12", serial="8", complement=other
    )
    assert Bench(amp.shop, number, amp.tester).at("V2").written == NOTHING_WRITTEN


def test_an_edited_complement_says_all_there_is(amp: Bench) -> None:
    text = AMPLIFIER.replace("V5 rectifier 5Y3GT", "V5 rectifier 5Y3GT plate=350 capacitor=450")
    intake_edit.edit_complement(amp.shop, job_id=amp.job().id, text=text)
    assert amp.at("V2").written == NOTHING_WRITTEN
    assert amp.at("V5").written == WrittenFacts(plate_v=350.0, capacitor_v=450.0)


def test_a_bad_fact_is_told_with_its_line_and_nothing_is_taken_in(shop: Shop) -> None:
    with pytest.raises(UserError, match="Line 2: “many” is not a number"):
        typed(shop, "plate=many")
    assert jobs.list_jobs(shop) == ()


def test_facts_entered_for_one_job_hold_for_model_units_and_open_jobs(shop: Shop) -> None:
    first = amplifier(shop)
    closed, _ = intake.new_job(shop, customer="Otto Fenn", maker="Larkmere", model="A12", serial="1")
    open_, _ = intake.new_job(shop, customer="Otto Fenn", maker="Larkmere", model="A12", serial="2")
    decide.set_status(shop, job_id=jobs.open_job(shop, number=closed).id, status=JobStatus.HANDED_BACK)
    _, changes = facts_edit.set_socket_facts(shop, job_id=first.job().id, facts={"V2": WRITTEN})
    later, _ = intake.new_job(shop, customer="Otto Fenn", maker="Larkmere", model="A12", serial="3")
    for number in (first.number, open_, later):
        assert Bench(shop, number, first.tester).at("V2").written == WRITTEN
    assert Bench(shop, closed, first.tester).at("V2").written == NOTHING_WRITTEN
    assert changes.said == "Facts of V2 of job 1 written down"


def test_they_can_be_taken_back_in_one_step(amp: Bench) -> None:
    facts_edit.set_socket_facts(amp.shop, job_id=amp.job().id, facts={"V2": NOTHING_WRITTEN, "V3": WRITTEN})
    assert (amp.at("V2").written, amp.at("V3").written) == (NOTHING_WRITTEN, WRITTEN)
    take_back(amp.shop)
    assert (amp.at("V2").written, amp.at("V3").written) == (WRITTEN, NOTHING_WRITTEN)


def test_a_known_supply_is_judged_at_once(shop: Shop) -> None:
    amp = amplifier(shop, complement="V1 output 6L6GC")
    amp.found("V1", "6V6GT")
    before = amp.at("V1").fit
    # plate voltage rating 315 V (RCA RC-19) where 500 V was designed (GE)
    facts_edit.set_socket_facts(shop, job_id=amp.job().id, facts={"V1": WrittenFacts(plate_v=400.0)})
    after = amp.at("V1").fit
    assert before is not None
    assert after is not None
    assert not any("400 V" in reason.text for reason in before.reasons)
    assert any("400 V" in reason.text for reason in after.reasons)
    assert after.outcome is Outcome.HARMFUL


def test_a_box_of_loose_tubes_keeps_its_own(shop: Shop) -> None:
    number, _ = intake.new_job(shop, customer="Otto Fenn", title="Shoebox", complement="T1 6V6GT plate=250")
    job = jobs.open_job(shop, number=number)
    assert job.sockets[0].written == WrittenFacts(plate_v=250.0)
    facts_edit.set_socket_facts(shop, job_id=job.id, facts={"T1": WrittenFacts(screen_v=200.0)})
    assert jobs.open_job(shop, number=number).sockets[0].written == WrittenFacts(screen_v=200.0)


def test_a_position_that_is_not_there_is_told(amp: Bench) -> None:
    with pytest.raises(UserError, match="Job 1 has no V9; reload the page"):
        facts_edit.set_socket_facts(amp.shop, job_id=amp.job().id, facts={"V9": WRITTEN})


# ---- circuits

STRING = CircuitPlan(
    "string",
    Circuit.SERIES,
    ("V1", "V2"),
    volts=117.0,
    drop_ohm=160.0,
    lamp_a=0.15,
    lamp_v=6.3,
    lamp_at=IN_SERIES,
    ballast_a=0.3,
    ballast_low_v=40.0,
    ballast_high_v=60.0,
)


def test_lamp_and_ballast_of_a_circuit_come_back(shop: Shop) -> None:
    model_id = amplifier(shop).job().model_id
    assert model_id is not None
    plans = (STRING, replace(STRING, name="other", positions=("V3",), lamp_at="dropper", lamp_tap_ohm=40.0))
    intake_edit.set_circuits(shop, model_id=model_id, line_v=117.0, circuits=plans)
    assert circuits.model_circuits(shop, model_id=model_id).circuits == plans


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"lamp_at": "V5"}, "string does not feed V5, where its lamp is said to be"),
        ({"lamp_at": "dropper"}, "type the ohms of the whole dropper and of the part"),
        ({"lamp_at": "dropper", "lamp_tap_ohm": 200.0}, "type the ohms of the whole dropper and of the part"),
        ({"ballast_low_v": None}, "type the ballast's amperes, and its volts from the lower to the higher"),
        ({"ballast_low_v": 60.0}, "type the ballast's amperes, and its volts from the lower to the higher"),
    ],
)
def test_a_circuit_that_cannot_be_is_refused(shop: Shop, wrong: dict[str, object], sentence: str) -> None:
    model_id = amplifier(shop).job().model_id
    assert model_id is not None
    plan = replace(STRING, **wrong)  # type: ignore[arg-type]
    with pytest.raises(UserError, match=sentence):
        intake_edit.set_circuits(shop, model_id=model_id, line_v=None, circuits=(plan,))
    assert circuits.model_circuits(shop, model_id=model_id).circuits == ()


def test_sockets_of_one_type_with_other_facts_are_judged_apart(shop: Shop) -> None:
    amp = amplifier(shop, complement="V1 output 6L6GC\nV2 output 6L6GC")
    for position in ("V1", "V2"):
        spares.install(shop, item_id=tube(shop, "6V6GT"), socket_id=amp.id(position))
    facts_edit.set_socket_facts(shop, job_id=amp.job().id, facts={"V2": WrittenFacts(plate_v=400.0)})
    fitted = [amp.at(position).fitted for position in ("V1", "V2")]
    assert [spare.outcome for spare in fitted if spare] == [Outcome.WRONG_TYPE, Outcome.HARMFUL]
