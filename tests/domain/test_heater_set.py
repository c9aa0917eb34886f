"""Whole sets worked by hand; heater ratings as on the types' data sheets, the examples those of the trade."""

import pytest

from tests.domain.tubes import TWIN, output, rectifier, tube, twin
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heater_notes import Note, notes_of
from tubeshelf.domain.heater_set import (
    CircuitState,
    Feed,
    Load,
    LoadState,
    StringState,
    WindingState,
    empty,
    load_of,
    string_amperes,
    string_state,
    winding_state,
    wiring_of,
)
from tubeshelf.domain.heater_words import say_note
from tubeshelf.domain.heaters import Ballast, Lamp
from tubeshelf.domain.types import TubeType

PINS = "1:1.grid1 2:1.cathode 3:heater 4:heater 5:1.plate 6:1.grid2 7:1.cathode"
HALF_WAVE = "1:nc 2:nc 3:heater 4:heater 5:1.plate 6:heater.tap 7:1.cathode"


def mini(name: str, heater: str) -> TubeType:
    """A seven-pin tube with its heater on pins 3 and 4."""
    return tube(name, PINS, f"{heater} 3-4", "1 pentode", base="7-pin miniature")


BE6, BA6, AT6 = (mini(name, "12.6/0.15") for name in ("12BE6", "12BA6", "12AT6"))
C50, C35 = mini("50C5", "50/0.15"), mini("35C5", "35/0.15")
W4 = tube(
    "35W4",
    HALF_WAVE,
    "35/0.15 3-4",
    "1 half-wave rectifier",
    base="7-pin miniature",
    tap_v=7.5,
    lamp_heater_v=32.0,
    lamp_tap_v=5.5,
)
RADIO = [BE6, BA6, AT6, C50, W4]
COLD = tube("0A2", "1:1.plate 2:1.cathode", "", "1 voltage regulator", base="7-pin miniature")


def loads(found: list[TubeType | None], designed: list[TubeType], volts: float | None = None) -> list[Load]:
    """What stands in V1, V2 …; ``None`` is a tube of a type that is not in the table."""
    return [
        load_of(f"V{i}", one, designed=meant, wiring=wiring_of(meant, volts=volts), name="XY9")
        for i, (one, meant) in enumerate(zip(found, designed, strict=True), start=1)
    ]


def in_string(*found: TubeType | None, designed: list[TubeType] = RADIO, **facts: object) -> StringState:
    feed = Feed("string", Circuit.SERIES, **{"volts": 117.0, **facts})  # type: ignore[arg-type]
    return string_state(feed, loads(list(found), designed))


def said(state: CircuitState, *, warns: bool | None = None) -> list[str]:
    notes = notes_of(state, as_designed=True)
    return [say_note(note) for note in notes if warns is None or note.warns is warns]


# ---- strings


def test_the_five_tube_string_of_the_trade_runs_4_7_per_cent_low() -> None:
    # 12.6 + 12.6 + 12.6 + 35 + 50 = 122.8 V at 0.15 A
    state = in_string(*RADIO)
    assert state.nominal is not None
    assert [t.label for t in state.nominal.tubes] == ["V1", "V2", "V3", "V4", "V5"]
    assert state.nominal.tubes[3].volts == pytest.approx(47.64, abs=0.005)  # 50 × 117/122.8
    assert said(state) == [
        "0.143 A at 117 V where 0.15 A is rated, 4.7 % low",
        "a first-order estimate: each hot heater counts as the resistor of its rating",
    ]


def test_a_35_volt_tube_in_the_50_volt_place_warns() -> None:
    # 107.8 V: 117/107.8 = 1.085, 125/107.8 = 1.160
    state = in_string(BE6, BA6, AT6, C35, W4)
    assert said(state)[:2] == [
        "V1, V2, V3, V4 and V5 run at 116 % of rated volts at 125 V",
        "0.163 A at 117 V where 0.15 A is rated, 8.5 % high",
    ]
    assert said(state, warns=True) == said(state)[:1]


def test_the_lamp_on_the_tap_lowers_its_rectifier_by_3_volts_and_belongs_on_the_retube_list() -> None:
    # 122.8 − 3 = 119.8 V: 117/119.8 = 0.9766; lamp 5.5 × 0.9766 = 5.37 V
    state = in_string(*RADIO, lamp=Lamp(6.3, 0.15, at="V5"))
    assert said(state)[:3] == [
        "0.146 A at 117 V where 0.15 A is rated, 2.3 % low",
        "the lamp on the heater tap of V5 lowers that heater by 3 V, gets 5.37 V of 6.3 V itself and carries "
        "plate current too",
        "with that lamp open the tap of V5 carries the plate current alone and overheats: check the lamp, "
        "it belongs on the retube list",
    ]


def test_a_tube_without_a_tap_leaves_the_lamp_dark() -> None:
    plain = mini("35Z9", "35/0.15")
    state = in_string(BE6, BA6, AT6, C50, plain, lamp=Lamp(6.3, 0.15, at="V5"))
    assert "the lamp hangs on a heater tap that V5 35Z9 does not have: it stays dark" in said(state)
    assert state.nominal is not None
    assert state.nominal.amperes == pytest.approx(0.15 * 117 / 122.8)


def test_the_dropper_of_the_trade_is_named_where_none_is_written_down() -> None:
    # three 6.3 V and two 25 V at 0.3 A are 68.9 V; 48.1 V are left: 160 Ω, 14.4 W
    set_ = [mini(f"6A{i}", "6.3/0.3") for i in range(3)] + [mini(f"25A{i}", "25/0.3") for i in range(2)]
    without = in_string(*set_, designed=set_)
    assert "a dropper of 160 Ω (48.1 V, 14.4 W) would bring the heaters to their rating" in said(without)
    with_it = in_string(*set_, designed=set_, drop_ohm=160.3)
    assert said(with_it)[:2] == [
        "0.3 A at 117 V where 0.3 A is rated",
        "the dropper of 160 Ω takes 48.1 V and dissipates 14.4 W",
    ]
    found = [note.code for note in notes_of(without)]
    assert "dropper_right" not in found  # against a wrong tube the right tube helps


def test_a_ballast_is_told_in_and_out_of_its_range() -> None:
    set_ = [mini(f"6A{i}", "6.3/0.3") for i in range(3)] + [mini(f"25A{i}", "25/0.3") for i in range(2)]
    ballast = Ballast(0.3, 40.0, 60.0)
    right = in_string(*set_, designed=set_, ballast=ballast)
    assert said(right)[1] == (
        "the ballast holds 0.3 A: 48.1 V are left for it (56.1 V at 125 V), within its range of 40 V to 60 V"
    )
    # a 6.3 V tube for a 25 V one: 66.8 V are left; at 60 V it is 200 Ω, so 117/367.33 = 0.3185 A, 63.7 V
    wrong = in_string(*set_[:4], set_[0], designed=set_, ballast=ballast)
    assert said(wrong, warns=True)[-1] == (
        "the ballast is out of its range of 40 V to 60 V: 63.7 V across it at 117 V, "
        "and 0.319 A flow instead of 0.3 A"
    )


@pytest.mark.parametrize(
    ("load", "sentence"),
    [
        (empty("V4"), "V4 is empty: no current flows in the string, and the supply stands"),
        (load_of("V4", COLD, designed=C50, wiring=wiring_of(C50)), "V4 0A2 has no heater: no current flows"),
    ],
)
def test_a_string_without_a_tube_carries_no_current(load: Load, sentence: str) -> None:
    whole = loads([*RADIO], RADIO)
    state = string_state(Feed("string", Circuit.SERIES, 117.0), [*whole[:3], load, whole[4]])
    assert (state.nominal, state.high, state.open_at) == (None, None, ("V4",))
    (told,) = said(state)
    assert told.startswith(sentence)
    assert said(state, warns=True) == [told]


def test_an_unknown_heater_leaves_the_string_unknown_and_is_named() -> None:
    state = in_string(BE6, None, AT6, C50, None)
    assert (state.nominal, state.unknown) == (None, ("V2", "V5"))
    assert said(state) == ["nothing can be worked out: V2 and V5 are not known"]


def test_a_220_volt_string_of_300_milliamperes_at_the_highest_line() -> None:
    # 9 + 16 + 17 + 26 + 15 = 83 V; 220 − 83 = 137 V: 457 Ω, 41.1 W; high line 220 × 125/117 = 235 V
    set_ = [mini(f"P{v}", f"{v}/0.3") for v in (9, 16, 17, 26, 15)]
    state = in_string(*set_, designed=set_, volts=220.0)
    assert state.high_v == pytest.approx(235.04, abs=0.005)
    assert state.dropper is not None
    assert (state.dropper.ohms, state.dropper.watts) == pytest.approx((456.7, 41.1), abs=0.05)


# ---- windings


def on_winding(*found: TubeType | None, designed: list[TubeType], **facts: object) -> WindingState:
    feed = Feed("winding", Circuit.PARALLEL, **{"volts": 6.3, **facts})  # type: ignore[arg-type]
    return winding_state(feed, loads(list(found), designed, volts=6.3), designed_a=1.8)


AMP = [twin("12AX7"), twin("12AX7"), output("6V6GT"), output("6V6GT")]


def test_a_winding_carries_heaters_and_lamps() -> None:
    # 2 × 0.3 + 2 × 0.45 + 0.3 A of lamps
    state = on_winding(*AMP, designed=AMP, rated_a=2.0, lamps_a=0.3)
    assert said(state) == ["takes 1.8 A (0.3 A of it lamps) of 2 A, 90 %"]
    assert [share.amperes for share in state.shares] == [0.3, 0.3, 0.45, 0.45]


def test_too_much_for_a_rated_winding_and_for_one_of_unknown_rating() -> None:
    big = output("6L6GC", "6.3/0.9 2-7")
    rated = on_winding(*AMP[:2], big, big, designed=AMP, rated_a=2.0)
    assert said(rated, warns=True) == ["too much for the winding: 2.4 A from one rated 2 A, 120 %"]
    unknown = on_winding(*AMP[:2], big, big, designed=AMP)
    assert said(unknown, warns=True) == [
        "too much for the winding: 2.4 A where 1.8 A was designed, 133 %; its rating is not known, and over "
        "115 % is not trusted"
    ]
    assert said(on_winding(*AMP, designed=AMP))[0].startswith("takes 1.5 A where 1.8 A was designed, 83.3 %;")


def test_volts_far_from_the_rating_warn_and_are_counted_by_resistance() -> None:
    # a 12.6 V 0.225 A heater is 56 Ω: 6.3/56 = 0.1125 A
    state = on_winding(*AMP[:3], output("12V6GT", "12.6/0.225 2-7"), designed=AMP, rated_a=2.0)
    assert state.shares[3].amperes == pytest.approx(0.1125)
    assert "V4 12V6GT: 6.3 V across a 12.6 V heater, 50 %" in said(state, warns=True)


def test_a_heater_on_4_and_5_alone_stays_cold_where_the_set_is_wired_4_and_5_to_9() -> None:
    plain = tube("6DJ8", f"{TWIN} 9:shield", "6.3/0.365 4-5", "1+2 triode", function="dual triode")
    state = on_winding(AMP[0], plain, *AMP[2:], designed=AMP, rated_a=2.0)
    assert state.shares[1].load.state is LoadState.COLD
    assert state.sum.amperes == pytest.approx(1.2)
    assert said(state, warns=True) == ["V2 6DJ8: its heater stays cold as this socket is wired"]


def test_what_is_unknown_empty_or_without_a_heater_on_a_winding() -> None:
    designed = [*AMP[:3], COLD]
    state = on_winding(AMP[0], None, designed=designed[:2], rated_a=2.0)
    assert (state.sum.unknown, state.sum.overloaded) == (("V2",), None)
    assert said(state) == ["takes 0.3 A of 2 A, 15 %, and V2 is not known"]
    feed = Feed("winding", Circuit.PARALLEL, 6.3, rated_a=2.0)
    regulator = load_of("V4", COLD, designed=COLD, wiring=wiring_of(COLD))
    assert said(winding_state(feed, [empty("V1"), regulator])) == ["takes 0 A of 2 A, 0 %", "V1 is empty"]


def test_a_5_volt_winding_of_a_battery_of_rectifiers() -> None:
    big = rectifier("5U4GB", "5/3 2-8")
    feed = Feed("5 V", Circuit.PARALLEL, 5.0, rated_a=2.0)
    state = winding_state(feed, loads([big], [rectifier("5Y3GT")], volts=5.0))
    assert said(state, warns=True) == ["too much for the winding: 3 A from one rated 2 A, 150 %"]


# ---- wiring and words


def test_a_wiring_is_chosen_by_pins_then_volts_then_amperes() -> None:
    either = twin("12AX7")
    assert [str(a.volts) for a in either.heaters] == ["6.3", "12.6"]
    by_pins = wiring_of(either, pins="5-4", volts=6.3)
    by_volts, by_amperes = wiring_of(either, volts=12.0), wiring_of(either, amperes=0.15)
    assert by_pins == by_volts == by_amperes == either.heaters[1]
    assert wiring_of(either, pins="2-7") == either.heaters[0]
    assert wiring_of(None) is None
    assert wiring_of(COLD) is None
    assert string_amperes([either, BE6, BA6, C50, None]) == 0.15
    assert string_amperes([either]) is None


def test_what_nobody_looked_at_is_named() -> None:
    meant = [load_of(p, BE6, designed=BE6, wiring=None, assumed=True) for p in ("V1", "V2")]
    feed = Feed("winding", Circuit.PARALLEL, 12.6, rated_a=1.0)
    assert said(winding_state(feed, meant))[-1] == "V1 and V2 were not looked at and count as intended"
    assert said(winding_state(feed, meant[:1]))[-1] == "V1 was not looked at and counts as intended"


def test_a_note_without_a_sentence_is_a_bug() -> None:
    with pytest.raises(KeyError):
        say_note(Note("nothing"))
