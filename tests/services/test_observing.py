"""Leakage, gas, life test and unused sections in the record."""

import pytest

from tests.services.benchwork import Bench, add_tester, amplifier
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action
from tubeshelf.domain.judging import Mark, Observation, PassLimits, Stage
from tubeshelf.services import bench, intake, jobs, tester_form, undo
from tubeshelf.services.intake_edit import edit_complement
from tubeshelf.services.shop import Shop
from tubeshelf.services.testers import list_testers, save_tester
from tubeshelf.services.today import today_for
from tubeshelf.services.unused import set_unused_sections, unused_text


@pytest.fixture
def amp(shop: Shop) -> Bench:
    return amplifier(shop)


def note(
    amp: Bench, position: str, mark: Mark, *, value: str = "", unit: str = "", pins: str = ""
) -> Observation:
    bench.observe(
        amp.shop,
        socket_id=amp.id(position),
        stage=Stage.AS_FOUND,
        mark=mark,
        is_fault=True,
        value=value,
        unit=unit,
        pins=pins,
    )
    return amp.at(position).observations[-1][2]


def test_pins_are_kept_in_one_spelling(amp: Bench) -> None:
    amp.found("V3")
    assert note(amp, "V3", Mark.SHORT, pins="2.5").pins == "2-5"
    assert (
        note(amp, "V3", Mark.LEAKAGE, value="0,4", unit="MΩ", pins="heater-cathode").pins == "heater-cathode"
    )


def test_a_pin_that_the_tube_lacks_is_refused_and_nothing_is_written(amp: Bench) -> None:
    amp.found("V3")
    with pytest.raises(UserError, match="no pin 10"):
        note(amp, "V3", Mark.SHORT, pins="2.10")
    assert amp.at("V3").observations == ()


def test_a_mark_nobody_knows_has_any_pins(amp: Bench) -> None:
    amp.found("V3", "QX99")
    assert note(amp, "V3", Mark.SHORT, pins="2.10").pins == "2-10"


def test_gas_keeps_its_sign(amp: Bench) -> None:
    amp.found("V3")
    gas = note(amp, "V3", Mark.GAS, value="-0.3", unit="µA")
    assert (gas.value, gas.unit) == (-0.3, "µA")


def test_zero_leakage_is_a_value(amp: Bench) -> None:
    amp.found("V3")
    leak = note(amp, "V3", Mark.LEAKAGE, value="0", unit="MΩ")
    assert (leak.value, leak.unit) == (0, "MΩ")


def test_a_life_test_is_kept_with_what_it_is_compared_with(amp: Bench) -> None:
    amp.found("V1")
    amp.enter("V1", "1500")
    amp.enter("V1", "1600")
    line = amp.line("V1")
    bench.observe(
        amp.shop,
        socket_id=amp.id("V1"),
        stage=Stage.AS_FOUND,
        mark=Mark.LIFE_TEST,
        is_fault=True,
        value="1200",
        unit="µmho",
        pins=line.label,
        line_id=line.line_id,
    )
    one = amp.at("V1").observations[0][2]
    # 25 % below the last of the two readings
    assert (one.value, one.pins) == (1200, "section 1, 25 % below 1,600")
    assert amp.at("V1").verdict_text == "life test 1,200 µmho, section 1, 25 % below 1,600"
    assert amp.at("V1").action is Action.REPLACE
    amp.enter("V1", "1300")
    assert amp.at("V1").observations[0][2] == one, "later readings change nothing"


def test_a_life_test_by_word_is_kept_in_words(amp: Bench) -> None:
    merit = add_tester(
        amp.shop, "Tester W", method="merit words", words=("poor", "doubtful", "good"), default_good_from=3.0
    )
    by_word = Bench(amp.shop, amp.number, merit)
    by_word.found("V3")
    by_word.enter("V3", "good")
    bench.observe(
        amp.shop,
        socket_id=by_word.id("V3"),
        stage=Stage.AS_FOUND,
        mark=Mark.LIFE_TEST,
        is_fault=True,
        value="2",
        line_id=by_word.line("V3").line_id,
    )
    assert by_word.at("V3").observations[0][2].value is None
    assert by_word.at("V3").verdict_text == "life test, doubtful after good"


def test_repeats_by_word_are_judged_by_the_nearest_word_and_in_doubt_between_two(amp: Bench) -> None:
    merit = add_tester(
        amp.shop,
        "Tester W",
        method="merit words",
        words=("poor", "doubtful", "good"),
        relative=None,
        absolute=0.3,
        default_good_from=3.0,
        default_reject_below=2.0,
    )
    by_word = Bench(amp.shop, amp.number, merit)
    by_word.found("V3")
    by_word.enter("V3", "good")
    assert by_word.at("V3").verdict_text == "good, merit words"
    by_word.enter("V3", "good")
    by_word.enter("V3", "doubtful")
    assert by_word.at("V3").verdict.word == "good"
    now = today_for(amp.shop, job_id=amp.job().id)
    assert now.jobs == (), "today's limits are the same, so nothing would change"


def test_a_life_test_without_a_reading_of_its_line_is_refused(amp: Bench) -> None:
    amp.found("V3")
    with pytest.raises(UserError, match="Read the line first"):
        note(amp, "V3", Mark.LIFE_TEST, value="7000", unit="µmho")


def test_what_a_tester_lets_pass_is_kept_with_it(shop: Shop) -> None:
    tester_id = add_tester(shop)
    (tester,) = list_testers(shop)
    typed = {"leakage_least": "2,5", "gas_most": "4", "gas_unit": "divisions"}
    save_tester(
        shop, tester_id=tester_id, expected_version=1, fields=tester_form.tester_fields(tester) | typed
    )
    (tester,) = list_testers(shop)
    assert tester.passes == PassLimits(2.5, 4.0, "divisions")
    assert {name: tester_form.tester_fields(tester)[name] for name in typed} == {
        "leakage_least": "2.5",
        "gas_most": "4",
        "gas_unit": "divisions",
    }
    assert amplifier(shop).job().testers[0].passes == tester.passes


def test_an_unused_section_is_not_asked_for_here_nor_at_the_next_visit(amp: Bench) -> None:
    amp.found("V1")
    amp.enter("V1", "1540")
    assert amp.at("V1").verdict.word == "not read"
    _, changes = set_unused_sections(amp.shop, socket_id=amp.id("V1"), sections=("2",))
    assert changes.said == "V1 of job 1: section 2 not used"
    socket = amp.at("V1")
    assert ([line.section for line in socket.lines], socket.unused) == (["1"], ("2",))
    assert (socket.verdict.word, socket.verdict.lines_expected) == ("good", 1)
    for serial in ("30417", "30418"):
        number, _ = intake.new_job(
            amp.shop, customer="Ada Brindle", maker="Larkmere", model="A12", serial=serial
        )
        later = jobs.open_job(amp.shop, number=number, tester_id=amp.tester)
        assert [s.unused for s in later.sockets][:2] == [("2",), ()], serial
    undo.take_back(amp.shop)
    undo.take_back(amp.shop)
    undo.take_back(amp.shop)
    assert [line.section for line in amp.at("V1").lines] == ["1", "2"]


def test_a_reading_of_an_unused_section_counts_for_nothing_until_it_is_used_again(amp: Bench) -> None:
    amp.found("V1")
    amp.enter("V1", "1540")
    amp.enter("V1", "400", 1)
    assert amp.at("V1").verdict.word == "reject"
    set_unused_sections(amp.shop, socket_id=amp.id("V1"), sections=("2",))
    assert amp.at("V1").verdict.word == "good"
    set_unused_sections(amp.shop, socket_id=amp.id("V1"), sections=())
    assert amp.at("V1").verdict.word == "reject"


def test_one_section_at_least_is_used_and_only_those_there_are(amp: Bench) -> None:
    with pytest.raises(UserError, match="last section"):
        set_unused_sections(amp.shop, socket_id=amp.id("V1"), sections=("1", "2"))
    with pytest.raises(UserError, match="no section 3"):
        set_unused_sections(amp.shop, socket_id=amp.id("V1"), sections=("3",))
    assert unused_text(("1", "2")) == "sections 1, 2 not used"


def test_a_complement_typed_again_keeps_what_is_not_used(amp: Bench) -> None:
    set_unused_sections(amp.shop, socket_id=amp.id("V1"), sections=("2",))
    text = "V1 first 12AX7\nV2 phase inverter 12AX7\nV3 output 6BQ5 =A\nV4 output 6BQ5 =A\nV5 rectifier 5Y3GT"
    edit_complement(amp.shop, job_id=amp.job().id, text=text)
    assert (amp.at("V1").role, amp.at("V1").unused) == ("first", ("2",))


def test_a_socket_is_seen_on_a_tester_of_its_own(amp: Bench) -> None:
    other = add_tester(amp.shop, "Tester C", default_good_share=0.9)
    amp.found("V3")
    job = jobs.open_job(amp.shop, number=amp.number, tester_id=amp.tester, own_testers={amp.id("V3"): other})
    names = {s.position: {line.tester.name for line in s.lines} for s in job.sockets}
    assert names == {
        "V1": {"Tester B"},
        "V2": {"Tester B"},
        "V3": {"Tester C"},
        "V4": {"Tester B"},
        "V5": {"Tester B"},
    }
