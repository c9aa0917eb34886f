"""A job patched after a reading is, socket by socket, what the record says when it is read afresh."""

from dataclasses import replace

import pytest

from tests.services.benchwork import Bench, add_tester, amplifier
from tubeshelf.domain.jobs import Action
from tubeshelf.domain.judging import Stage
from tubeshelf.services import bench
from tubeshelf.services.after_reading import with_reading
from tubeshelf.services.shop import Shop
from tubeshelf.services.undo import take_back
from tubeshelf.services.views.bench import JobView, SocketView


@pytest.fixture
def amp(shop: Shop) -> Bench:
    """Every tube of an amplifier said to be as intended."""
    made = amplifier(shop)
    for position in ("V1", "V2", "V3", "V4", "V5"):
        made.found(position)
    return made


def _read(amp: Bench, position: str, text: str, nth: int = 0, *, stage: Stage = Stage.AS_FOUND) -> None:
    """Take a reading, and compare what is shown at once with what the record says."""
    before = amp.job(stage)
    socket = next(s for s in before.sockets if s.position == position)
    taken, changes = amp.enter(position, text, nth, stage=stage, confirmed=True)
    assert changes is not None
    shown = with_reading(amp.shop, before, socket_id=socket.id, line=socket.lines[nth], taken=taken)
    assert _own(shown, position) == _own(amp.job(stage), position)


def _own(job: JobView, position: str) -> tuple[SocketView, list[object]]:
    """A socket apart from spares, and what is to become of each tube of the job."""
    here = next(s for s in job.sockets if s.position == position)
    return replace(here, spare=None), [
        (s.proposed, s.action, s.action_said, s.action_why) for s in job.sockets
    ]


def test_first_reading_of_a_line_that_nobody_wrote_down(amp: Bench) -> None:
    assert amp.line("V3").line_id is None
    _read(amp, "V3", "11000")
    assert amp.line("V3").line_id is not None


def test_repeats_are_judged_together(amp: Bench) -> None:
    for text in ("11000", "10600", "9000"):
        _read(amp, "V4", text)
    assert amp.line("V4").verdict is not None
    assert amp.at("V4").lines[0].readings[-1].text == "9,000"


def test_both_sections_of_a_tube(amp: Bench) -> None:
    _read(amp, "V1", "1600", 0)
    _read(amp, "V1", "1200", 1)
    assert amp.at("V1").verdict.lines_read == 2


def test_a_rejected_tube_takes_its_match_group_with_it(amp: Bench) -> None:
    _read(amp, "V3", "11000")
    _read(amp, "V4", "2000")
    assert {amp.at(p).action for p in ("V3", "V4")} == {Action.REPLACE}
    _read(amp, "V4", "11500")


def test_what_was_said_at_the_bench_stays_said(amp: Bench) -> None:
    bench.set_action(amp.shop, socket_id=amp.id("V3"), action=Action.KEEP, why="sounds well")
    _read(amp, "V3", "2000")
    assert amp.at("V3").action_why == "sounds well"


def test_without_any_limit(shop: Shop) -> None:
    made = amplifier(shop)
    made.tester = add_tester(shop, "Tester C", default_good_share=None, default_reject_share=None)
    made.found("V5")
    _read(made, "V5", "55")


def test_on_a_scale_of_words(shop: Shop) -> None:
    made = amplifier(shop)
    made.tester = add_tester(shop, "Tester D", unit="", full_scale=None, words=("bad", "weak", "good"))
    made.found("V1")
    _read(made, "V1", "good", 0)
    _read(made, "V1", "2", 1)


def test_with_readings_of_another_tester_beside(amp: Bench) -> None:
    amp.enter("V3", "11000", confirmed=True)
    amp.tester = add_tester(amp.shop, "Tester C")
    _read(amp, "V3", "3000")
    assert amp.at("V3").other_lines


def test_as_left(amp: Bench) -> None:
    amp.enter("V3", "11000", confirmed=True)
    _read(amp, "V3", "10000", stage=Stage.AS_LEFT)
    _read(amp, "V3", "10400", stage=Stage.AS_LEFT)
    assert amp.at("V3", Stage.AS_LEFT).as_left


def test_after_taking_back_the_next_one_counts_alone(amp: Bench) -> None:
    _read(amp, "V3", "11000")
    _read(amp, "V3", "2000")
    take_back(amp.shop)
    _read(amp, "V3", "10900")
    assert [r.text for r in amp.line("V3").readings] == ["11,000", "10,900"]
