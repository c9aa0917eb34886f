"""The retube list: its chassis map, its lamps, and a box of loose tubes into which nothing goes."""

from tests.services.benchwork import Bench, add_tester, amplifier
from tests.services.shelfwork import tube
from tubeshelf.cli.retube_text import retube_text
from tubeshelf.domain.chassis import Seat
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.jobs import Action
from tubeshelf.domain.judging import Mark
from tubeshelf.services import bench, finding, intake, intake_edit
from tubeshelf.services.chassis import place_sockets
from tubeshelf.services.decision import decision_lines
from tubeshelf.services.intake_edit import CircuitPlan
from tubeshelf.services.orders import order_list, waiting_for
from tubeshelf.services.papers import retube_list, statement
from tubeshelf.services.shop import Shop
from tubeshelf.services.unused import set_unused_sections
from tubeshelf.services.views.papers import RetubeList


def listed(amp: Bench) -> RetubeList:
    return retube_list(amp.shop, job_id=amp.job().id)


def box(shop: Shop) -> Bench:
    """Loose tubes: one good, one shorted, one not looked at; the shelf has one of the shorted kind."""
    tester = add_tester(shop)
    number, _ = intake.new_job(
        shop, customer="Otto Fenn", title="Shoebox", complement="T1 12AX7\nT2 6BQ5\nT3 6SN7GT"
    )
    loose = Bench(shop, number, tester)
    loose.found("T1")
    loose.enter("T1", "1540")
    loose.enter("T1", "1510", 1)
    loose.found("T2")
    loose.enter("T2", "9900")
    loose.mark("T2", Mark.SHORT, pins="2-3")
    tube(shop, "6BQ5")
    return loose


def test_the_map_has_the_saved_places_and_every_verdict_in_words(shop: Shop) -> None:
    amp = amplifier(shop)
    model_id = amp.job().model_id
    assert model_id is not None
    place_sockets(shop, model_id=model_id, places={"V2": Seat(0.4, 0.6)})
    amp.found("V2", "12AU7")
    amp.found("V4")
    amp.mark("V4", Mark.SHORT)
    places = {place.position: place for place in listed(amp).places}
    assert list(places) == ["V1", "V2", "V3", "V4", "V5"]
    assert (places["V2"].seat, places["V2"].saved) == (Seat(0.4, 0.6), True)
    assert not places["V1"].saved
    assert (places["V2"].verdict, places["V2"].fit) == ("not read", "wrong type")
    assert (places["V4"].verdict, places["V4"].fit) == ("short", "")
    assert places["V1"].verdict == "not looked yet"


def test_the_lamps_of_every_circuit_are_to_be_checked(shop: Shop) -> None:
    amp = amplifier(shop)
    model_id = amp.job().model_id
    assert model_id is not None
    assert listed(amp).checks == ()
    windings = (
        CircuitPlan(
            "6.3 V", Circuit.PARALLEL, ("V1", "V2", "V3", "V4"), volts=6.3, lamp_a=0.3, lamp_at="winding"
        ),
        CircuitPlan("5 V", Circuit.PARALLEL, ("V5",), volts=5.0),
    )
    intake_edit.set_circuits(shop, model_id=model_id, line_v=117.0, circuits=windings)
    assert listed(amp).checks == ("6.3 V: check the lamps, 0.3 A in all",)
    assert "Check\n  6.3 V: check the lamps, 0.3 A in all" in retube_text(listed(amp))


def test_the_lamp_on_a_rectifiers_tap_names_its_socket(shop: Shop) -> None:
    number, _ = intake.new_job(
        shop, customer="Otto Fenn", model="Wren 5", complement="V4 output 50L6GT\nV5 rectifier 35Z5GT"
    )
    radio = Bench(shop, number, add_tester(shop))
    model_id = radio.job().model_id
    assert model_id is not None
    plan = CircuitPlan("string", Circuit.SERIES, ("V4", "V5"), lamp_v=6.3, lamp_a=0.15, lamp_at="V5")
    intake_edit.set_circuits(shop, model_id=model_id, line_v=117.0, circuits=(plan,))
    (check,) = listed(radio).checks
    assert check.startswith("string: check the lamp (6.3 V, 0.15 A) on the heater tap of V5 35Z5GT; ")


def test_into_a_box_of_loose_tubes_nothing_goes(shop: Shop) -> None:
    paper = listed(box(shop))
    assert paper.loose
    assert paper.places == paper.checks == paper.to_order == ()
    (shorted,) = paper.replace
    assert (shorted.position, shorted.take_out, shorted.why) == ("T2", "6BQ5", "short, pins 2–3")
    assert (shorted.put_in, shorted.tag, shorted.bin, shorted.reads) == ("", "", "", "9,900")
    assert [line.position for line in paper.undecided] == ["T3"]
    assert [(line.position, line.reads) for line in paper.keep] == [("T1", "1,540 · 1,510")]


def test_a_box_of_loose_tubes_orders_and_charges_nothing_but_the_labour(shop: Shop) -> None:
    loose = box(shop)
    bench.set_action(shop, socket_id=loose.id("T1"), action=Action.REPLACE)
    job = loose.job()
    assert [socket.spare for socket in job.sockets] == [None] * 3
    assert (job.not_on_hand, job.estimate.tubes, job.estimate.unpriced) == (0, 0, 0)
    assert order_list(shop) == ()
    assert waiting_for(shop) == {}
    assert not any(line.charged for line in decision_lines(job))
    paper = statement(shop, job_id=job.id)
    assert [line.done for line in paper.lines] == ["tested", "tested", "not tested"]
    assert [line.price for line in paper.lines] == [""] * 3
    finding.set_empty(shop, socket_id=loose.id("T3"))
    assert loose.job().waits_for == "handing back"


def test_of_repeats_the_papers_tell_the_mean_that_the_verdict_stands_on(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    for text in ("9000", "9200", "9400"):
        amp.enter("V3", text)
    (line,) = [line for line in listed(amp).keep if line.position == "V3"]
    assert line.reads == "9,200"


def test_the_text_of_a_box_names_no_spare_either(shop: Shop) -> None:
    text = retube_text(listed(box(shop)))
    assert "Set apart\n" in text
    assert "→" not in text
    assert "[ ]" not in text
    assert "order" not in text.lower()


def test_a_section_that_the_set_does_not_use_is_noted(shop: Shop) -> None:
    amp = amplifier(shop)
    assert not any("not used" in note for note in listed(amp).notes)
    set_unused_sections(shop, socket_id=amp.id("V2"), sections=("2",))
    assert listed(amp).notes == ("V2: section 2 not used.",)
    assert "V2: section 2 not used." in retube_text(listed(amp))
