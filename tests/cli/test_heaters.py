"""``tubeshelf heaters``: the text for a reader, and JSON whose figures obey Ohm's law."""

import json
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from tests.services.test_heaters import RADIO, STRING
from tubeshelf.bootstrap import open_record
from tubeshelf.cli.main import main
from tubeshelf.domain.fitting import Circuit
from tubeshelf.services import finding, intake, intake_edit, jobs
from tubeshelf.services.intake_edit import CircuitPlan
from tubeshelf.services.shop import open_shop

AMPLIFIER = "V1 input 12AX7\nV2 output 6V6GT\nV3 rectifier 5Y3GT\nV4 phase 12AU7"


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record with a radio whose output tube is wrong (job 1), an amplifier (2) and a box (3)."""
    path = tmp_path_factory.mktemp("record") / "shop.tubeshelf"
    with closing(open_record(str(path))) as record:
        shop = open_shop(record)
        radio, _ = intake.new_job(shop, customer="Ada Brindle", model="Wren 5", complement=RADIO)
        amp, _ = intake.new_job(shop, customer="Ada Brindle", model="A12", complement=AMPLIFIER)
        intake.new_job(shop, customer="Ada Brindle", title="Shoebox", complement="T1 80")
        plans = {
            radio: (STRING,),
            amp: (
                CircuitPlan(
                    "6.3 V", Circuit.PARALLEL, ("V1", "V2"), volts=6.3, lamp_a=0.3, lamp_at="winding"
                ),
                CircuitPlan("5 V", Circuit.PARALLEL, ("V3",), volts=5.0, rated_a=2.0),
            ),
        }
        for number, circuits in plans.items():
            model_id = jobs.open_job(shop, number=number).model_id
            assert model_id is not None
            intake_edit.set_circuits(shop, model_id=model_id, line_v=117.0, circuits=circuits)
        socket = jobs.open_job(shop, number=radio).sockets[3]
        finding.set_found(shop, socket_id=socket.id, text="35C5")
    return path


def run(*argv: str) -> int:
    return main(argv, open_window=lambda record: 0, has_display=lambda: True)


def asked(path: Path, capsys: pytest.CaptureFixture[str], number: int) -> dict[str, Any]:
    assert run("heaters", str(number), "--json", "--record", str(path)) == 0
    (line,) = capsys.readouterr().out.splitlines()
    answer: dict[str, Any] = json.loads(line)
    return answer


def test_a_strings_figures_obey_ohms_law(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(path, capsys, 1)
    assert (answer["job"], answer["title"]) == (1, "Wren 5")
    (string,) = answer["circuits"]
    assert (string["name"], string["circuit"], string["supply_v"]) == ("string", "series", 117.0)
    ohms = {"V1": 84.0, "V2": 84.0, "V3": 84.0, "V4": 50 / 0.15, "V5": 35 / 0.15}
    for state, output, percent in (("designed", 50, -4.72), ("found", 35, 8.53), ("planned", 50, -4.72)):
        found = string[state]
        total = sum({**ohms, "V4": output / 0.15}.values())
        for figures, line in ((found, 117.0), (found["high_line"], 125.0)):
            assert figures["amperes"] == pytest.approx(line / total)
            assert sum(tube["volts"] for tube in figures["tubes"]) == pytest.approx(line)
        assert found["high_line"]["line_v"] == 125.0
        assert [tube["percent_off"] for tube in found["tubes"]] == pytest.approx([percent] * 5, abs=0.005)
        assert found["tubes"][3]["position"] == "V4"
        assert found["tubes"][3]["type"] == f"{output}C5"
        assert found["tubes"][3]["rated_v"] == output
        assert (found["dropper_v"], found["dropper_w"], found["lamp"], found["unknown"]) == (0, 0, None, [])
    assert answer["warnings"] == [
        {
            "circuit": "string",
            "state": "found",
            "sentence": "V1, V2, V3, V4 and V5 run at 116 % of rated volts at 125 V",
        }
    ]
    assert answer["warnings"][0]["sentence"] in string["found"]["sentences"]


def test_a_windings_figures_add_up(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(path, capsys, 2)
    signal, rectifier = answer["circuits"]
    designed = signal["designed"]
    assert [(load["position"], load["type"], load["amperes"]) for load in designed["loads"]] == [
        ("V1", "12AX7", 0.3),
        ("V2", "6V6GT", 0.45),
    ]
    assert designed["amperes"] == pytest.approx(1.05)  # with 0.3 A of lamps
    assert (signal["rating_a"], designed["share"], designed["overloaded"]) == (None, 1.0, False)
    assert (rectifier["rating_a"], rectifier["found"]["share"], rectifier["found"]["unknown"]) == (
        2.0,
        1.0,
        [],
    )
    (loose,) = answer["loose"]
    assert (loose["volts"], loose["positions"], loose["planned_a"]) == (6.3, ["V4"], 0.3)


def test_the_text_has_a_column_for_each_state(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("heaters", "1", "--record", str(path)) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == [
        "Job 1: Wren 5",
        "WARNING, as found: string: V1, V2, V3, V4 and V5 run at 116 % of rated volts at 125 V",
    ]
    assert lines[3] == "string: series string, 117 V"
    assert lines[4].split() == ["designed", "found", "planned"]
    # 50 × 117/122.8 = 47.6; 35 × 117/107.8 = 38.0
    row = next(line for line in lines if line.startswith("  V4"))
    assert " ".join(row.split()) == "V4 50C5 47.6 V, 95.3 % 35C5 38 V, 109 % 50C5 47.6 V, 95.3 %"
    assert sum("first-order estimate" in line for line in lines) == 1
    assert run("heaters", "2", "--record", str(path)) == 0
    told = capsys.readouterr().out
    assert "circuit not written down\n  6.3 V: V4: designed 0.3 A, found 0.3 A, planned 0.3 A" in told
    assert "  V3     5Y3GT     2 A" in told
    assert "  lamps            0.3 A" in told


@pytest.mark.parametrize(
    ("number", "sentence"), [("3", "Job 3 is a box of loose tubes"), ("77", "There is no job 77")]
)
def test_what_cannot_be_answered_is_one_sentence(
    path: Path, capsys: pytest.CaptureFixture[str], number: str, sentence: str
) -> None:
    assert run("heaters", number, "--json", "--record", str(path)) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"tubeshelf: {sentence}")
    assert told.err.count("\n") == 1


def test_help_says_what_the_keys_mean(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        run("heaters", "--help")
    told = capsys.readouterr().out
    answers = [asked(path, capsys, number) for number in (1, 2)]
    for answer in answers:
        for circuit in answer["circuits"]:
            for key in {*answer, *circuit, *circuit["designed"], *circuit["designed"].get("high_line", {})}:
                assert key in told
