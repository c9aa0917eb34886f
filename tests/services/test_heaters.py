"""The heaters of a job as designed, as found and as planned; figures by hand from the types' data sheets."""

from dataclasses import replace

import pytest

from tests.services.benchwork import Bench, add_tester, amplifier
from tests.services.shelfwork import tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.jobs import Action, Answer, Disposition, JobStatus
from tubeshelf.services import answers, bench, decide, finding, intake, intake_edit, spares
from tubeshelf.services.heaters import job_heaters
from tubeshelf.services.intake_edit import CircuitPlan
from tubeshelf.services.shop import Shop, ShopSettings, save_settings
from tubeshelf.services.views.heaters import CircuitHeaters, JobHeaters

RADIO = """V1 converter 12BE6 series
V2 IF amplifier 12BA6 series
V3 detector 12AT6 series
V4 output 50C5 series
V5 rectifier 35W4 series"""
FIVE = ("V1", "V2", "V3", "V4", "V5")
STRING = CircuitPlan("string", Circuit.SERIES, FIVE, volts=117.0)
WINDINGS = (
    CircuitPlan(
        "6.3 V", Circuit.PARALLEL, ("V1", "V2", "V3", "V4"), volts=6.3, lamp_a=0.3, lamp_at="winding"
    ),
    CircuitPlan("5 V", Circuit.PARALLEL, ("V5",), volts=5.0, rated_a=2.0),
)


def with_circuits(job: Bench, *plans: CircuitPlan) -> Bench:
    model_id = job.job().model_id
    assert model_id is not None
    intake_edit.set_circuits(job.shop, model_id=model_id, line_v=117.0, circuits=plans)
    return job


def radio(shop: Shop, plan: CircuitPlan = STRING) -> Bench:
    number, _ = intake.new_job(shop, customer="Otto Fenn", maker="Tarn", model="Wren 5", complement=RADIO)
    return with_circuits(Bench(shop, number, add_tester(shop)), plan)


def heaters(job: Bench) -> JobHeaters:
    return job_heaters(job.shop, number=job.number)


def only(job: Bench) -> CircuitHeaters:
    (circuit,) = heaters(job).circuits
    return circuit


def volts(circuit: CircuitHeaters, state: str) -> list[float] | None:
    string = dict(circuit.states)[state].string
    assert string is not None
    return None if string.nominal is None else [round(t.volts, 2) for t in string.nominal.tubes]


def amperes(circuit: CircuitHeaters) -> list[float]:
    windings = [state.winding for _, state in circuit.states]
    return [round(w.sum.amperes, 6) for w in windings if w is not None]


# ---- strings


def test_a_string_nobody_looked_at_counts_as_designed_and_says_so(shop: Shop) -> None:
    circuit = only(radio(shop))
    # 122.8 V on 117 V: × 0.95277
    assert volts(circuit, "designed") == [12.0, 12.0, 12.0, 47.64, 33.35]
    assert volts(circuit, "found") == volts(circuit, "planned") == volts(circuit, "designed")
    assert circuit.found.sentences[-1] == "V1, V2, V3, V4 and V5 were not looked at and count as intended"
    assert not any("looked" in sentence for sentence in circuit.designed.sentences)


def test_a_wrong_tube_found_is_warned_of_and_the_plan_sets_it_right(shop: Shop) -> None:
    job = radio(shop)
    for position in ("V1", "V2", "V3", "V5"):
        job.found(position)
    job.found("V4", "35C5")
    (warning,) = heaters(job).warnings
    assert (warning.circuit, warning.state) == ("string", "found")
    assert warning.sentence == "V1, V2, V3, V4 and V5 run at 116 % of rated volts at 125 V"
    circuit = only(job)
    # 107.8 V on 117 V: × 1.08534
    assert volts(circuit, "found") == [13.68, 13.68, 13.68, 37.99, 37.99]
    assert volts(circuit, "planned") == volts(circuit, "designed")  # a wrong type is to be replaced


def test_what_the_customer_declined_stays_in_the_plan(shop: Shop) -> None:
    job = radio(shop)
    job.found("V4", "35C5")
    answers.set_answer(shop, socket_id=job.id("V4"), answer=Answer.DECLINED)
    assert volts(only(job), "planned") == volts(only(job), "found") != volts(only(job), "designed")
    assert {warning.state for warning in heaters(job).warnings} == {"found", "planned"}


def test_an_empty_socket_opens_the_string_until_something_is_put_in(shop: Shop) -> None:
    job = radio(shop)
    finding.set_empty(shop, socket_id=job.id("V5"))
    bench.set_action(shop, socket_id=job.id("V5"), action=Action.REPLACE)
    circuit = only(job)
    assert volts(circuit, "found") is None
    assert circuit.found.warnings[0].startswith("V5 is empty: no current flows in the string")
    assert volts(circuit, "planned") == volts(circuit, "designed")
    bench.set_disposition(shop, socket_id=job.id("V5"), disposition=Disposition.EMPTY_ON_PURPOSE)
    assert volts(only(job), "planned") is None


def test_an_unreadable_tube_leaves_the_string_unknown(shop: Shop) -> None:
    job = radio(shop)
    finding.set_unreadable(shop, socket_id=job.id("V2"))
    found = only(job).found
    assert found.string is not None
    assert (found.string.nominal, found.string.unknown) == (None, ("V2",))
    assert found.sentences[0] == "nothing can be worked out: V2 is not known"


def test_lamp_dropper_and_ballast_are_those_written_down(shop: Shop) -> None:
    lamp = replace(STRING, lamp_at="V5", lamp_v=6.3, lamp_a=0.15)
    # 119.8 V with 32 V for the rectifier: × 0.97663
    assert volts(only(radio(shop, lamp)), "designed") == [12.31, 12.31, 12.31, 48.83, 31.25]


def test_a_ballast_holds_what_a_wrong_tube_would_change(shop: Shop) -> None:
    # 300 V less 122.8 V leave 177.2 V for the ballast; with the 35 V tube 192.2 V; both in range
    ballast = replace(STRING, volts=300.0, ballast_a=0.15, ballast_low_v=150.0, ballast_high_v=215.0)
    job = radio(shop, ballast)
    job.found("V4", "35C5")
    circuit = only(job)
    assert volts(circuit, "found") == [12.6, 12.6, 12.6, 35.0, 35.0]
    assert circuit.found.string is not None
    assert circuit.found.string.nominal is not None
    assert circuit.found.string.nominal.ballast_v == pytest.approx(192.2)


def test_the_highest_line_is_the_shops_own(shop: Shop) -> None:
    save_settings(shop, settings=replace(ShopSettings(), high_line_v=130.0))
    string = only(radio(shop)).designed.string
    assert string is not None
    assert string.high_v == pytest.approx(130.0)


def test_a_string_without_a_written_supply_hangs_on_the_line_of_its_model(shop: Shop) -> None:
    job = radio(shop)
    model_id = job.job().model_id
    assert model_id is not None
    plan = replace(STRING, volts=None)
    # 122.8 V rated: at 220 V all get 1.7915 times their volts; the usual line is 117 V
    for line_v, output in ((220.0, 89.58), (None, 47.64)):
        intake_edit.set_circuits(shop, model_id=model_id, line_v=line_v, circuits=(plan,))
        told = volts(only(job), "designed")
        assert told is not None
        assert told[3] == output


# ---- windings


def test_windings_with_lamps_as_designed_found_and_planned(shop: Shop) -> None:
    amp = with_circuits(amplifier(shop), *WINDINGS)
    for position in ("V1", "V2", "V3", "V4"):
        amp.found(position)
    amp.found("V5", "5U4GB")
    signal, rectifier = heaters(amp).circuits
    # 2 × 0.3 + 2 × 0.76 + 0.3 A of lamps; 5Y3GT 2 A, 5U4GB 3 A
    assert amperes(signal) == [2.42] * 3
    assert signal.designed.winding is not None
    assert signal.rating_a is None
    assert signal.designed.winding.sum.share == pytest.approx(1.0)
    assert amperes(rectifier) == [2.0, 3.0, 2.0]
    assert [(w.circuit, w.state) for w in heaters(amp).warnings] == [("5 V", "found")]
    assert rectifier.found.warnings == ("too much for the winding: 3 A from one rated 2 A, 150 %",)


def test_the_plan_has_the_spare_that_is_named_and_then_the_one_put_in(shop: Shop) -> None:
    amp = with_circuits(amplifier(shop), *WINDINGS)
    amp.found("V1", "12AU6")
    spare = tube(shop, "5751")
    assert amp.at("V1").spare is not None
    planned = heaters(amp).circuits[0].planned.winding
    assert planned is not None
    # a 5751 takes 0.35 A where a 12AX7 takes 0.3 A
    assert (planned.shares[0].load.type_name, planned.shares[0].amperes) == ("5751", 0.35)
    spares.install(shop, item_id=spare, socket_id=amp.id("V1"))
    planned = heaters(amp).circuits[0].planned.winding
    assert planned is not None
    assert planned.shares[0].load.type_name == "5751"


def test_a_modified_socket_counts_as_what_it_was_changed_to(shop: Shop) -> None:
    amp = with_circuits(amplifier(shop), *WINDINGS)
    intake_edit.set_modified(shop, socket_id=amp.id("V5"), type_name="5U4GB")
    assert amperes(heaters(amp).circuits[1]) == [3.0, 3.0, 3.0]


def test_the_written_wiring_decides_how_a_tapped_heater_counts(shop: Shop) -> None:
    amp = amplifier(shop, complement="V1 input 12AX7 heater=4-5\nV2 input 12AX7")
    plan = CircuitPlan("12.6 V", Circuit.PARALLEL, ("V1", "V2"), volts=6.3, rated_a=1.0)
    winding = heaters(with_circuits(amp, plan)).circuits[0].designed.winding
    assert winding is not None
    # wired 4–5 it is 12.6 V 0.15 A, 84 Ω, and takes 0.075 A of 6.3 V; wired 4+5 to 9 it takes 0.3 A
    assert [share.amperes for share in winding.shares] == pytest.approx([0.075, 0.3])
    assert winding.shares[0].percent == pytest.approx(50.0)


def test_sockets_without_a_circuit_are_summed_by_their_volts(shop: Shop) -> None:
    amp = amplifier(shop, complement="V1 input 12AX7\nV2 output 6BQ5\nV3 rectifier 5Y3GT\nV4 regulator 0A2")
    amp.found("V3", "5U4GB")
    told = heaters(amp)
    assert told.circuits == ()
    assert told.warnings == ()
    assert [(g.volts, g.positions, g.designed_a, g.found_a) for g in told.loose] == [
        (5.0, ("V3",), 2.0, 3.0),
        (6.3, ("V1", "V2"), 1.06, 1.06),
    ]


# ---- jobs


def test_a_done_job_plans_nothing_more(shop: Shop) -> None:
    job = radio(shop)
    job.found("V4", "35C5")
    decide.set_status(shop, job_id=job.job().id, status=JobStatus.HANDED_BACK)
    assert volts(only(job), "planned") == volts(only(job), "found")


def test_a_job_without_a_set_or_that_is_not_there_is_told(shop: Shop) -> None:
    number, _ = intake.new_job(shop, customer="Otto Fenn", title="Shoebox", complement="T1 80")
    with pytest.raises(UserError, match="Job 1 is a box of loose tubes: it has no heater circuits"):
        job_heaters(shop, number=number)
    with pytest.raises(UserError, match="There is no job 77"):
        job_heaters(shop, number=77)
