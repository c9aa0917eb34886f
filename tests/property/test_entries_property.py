"""Any sequence of entries at the bench, taken back and done again at will, ends where a plain model says."""

import shutil
from contextlib import closing
from copy import deepcopy
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from tests.records import FixedClock
from tests.services.benchwork import Bench, amplifier
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.services import bench, finding, undo
from tubeshelf.services.shop import open_shop
from tubeshelf.services.unused import set_unused_sections

POSITIONS = st.sampled_from(["V1", "V3", "V5"])
SECTIONS = {"V1": ("1", "2"), "V3": ("1",), "V5": ()}
"""What is read of each: a twin triode, an output tube, and a rectifier of which nothing is."""

READINGS = st.sampled_from(["9000", "7400", "3000", "1540", "0", "0,5"])
MARKS = st.sampled_from([Mark.SHORT, Mark.GAS, Mark.NOISE, Mark.LOOSE_BASE])


@dataclass
class Place:
    """What was entered for one socket; ``found`` is empty while nobody has looked."""

    found: str = ""
    read: dict[str, list[float]] = field(default_factory=dict)
    marks: list[tuple[str, bool]] = field(default_factory=list)
    action: str = ""
    unused: tuple[str, ...] = ()


Model = dict[str, Place]


class Entering(RuleBasedStateMachine):
    """Works at the bench; the model keeps a copy of itself for every step that can be taken back."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.path = path
        self.now: Model = {position: Place() for position in SECTIONS}
        self.before: list[Model] = []
        self.after: list[Model] = []

    @initialize()
    def begin(self) -> None:
        """Something stands in two of the three; these steps, too, can be taken back."""
        self.open()
        for position in ("V1", "V3"):
            self.look(position, empty=False)

    def open(self) -> None:
        self.record = open_record(str(self.path), clock=FixedClock())
        self.amp = Bench(open_shop(self.record), 1, 1)

    def step(self, *, changed: bool = True) -> None:
        """Remember the model as it is; what changes nothing is no step."""
        if changed:
            self.before.append(deepcopy(self.now))
            self.after.clear()

    @rule(position=POSITIONS, empty=st.booleans())
    def look(self, position: str, *, empty: bool) -> None:
        place = self.now[position]
        if place.read or place.marks:
            return  # another tube is another story
        self.step()
        if empty:
            finding.set_empty(self.amp.shop, socket_id=self.amp.id(position))
        else:
            self.amp.found(position)
        place.found = "empty" if empty else "type"

    @rule(position=POSITIONS, nth=st.integers(0, 1), texts=st.lists(READINGS, min_size=1, max_size=3))
    def read(self, position: str, nth: int, texts: list[str]) -> None:
        place = self.now[position]
        asked = [s for s in SECTIONS[position] if s not in place.unused]
        if place.found != "type" or nth >= len(asked):
            return
        for text in texts:
            self.step()
            self.amp.enter(position, text, nth, confirmed=True)
            place.read.setdefault(asked[nth], []).append(float(text.replace(",", ".")))

    @rule(position=POSITIONS, mark=MARKS, fault=st.booleans())
    def note(self, position: str, mark: Mark, fault: bool) -> None:
        place = self.now[position]
        if place.found != "type":
            with pytest.raises(UserError):
                self.amp.mark(position, mark, fault=fault)
            return
        self.step()
        self.amp.mark(position, mark, fault=fault)
        place.marks.append((mark, fault))

    @rule(position=POSITIONS)
    def strike_mark(self, position: str) -> None:
        place = self.now[position]
        if place.marks:
            self.step()
            which = self.amp.at(position).observations[-1][0]
            bench.drop_observation(self.amp.shop, observation_id=which)
            place.marks.pop()

    @rule(position=POSITIONS)
    def strike_reading(self, position: str) -> None:
        place = self.now[position]
        lines = [line for line in self.amp.at(position).lines if line.readings]
        if lines:
            self.step()
            bench.drop_reading(self.amp.shop, reading_id=lines[0].readings[0].id)
            left = place.read[lines[0].section]
            left.pop(0)
            if not left:
                del place.read[lines[0].section]

    @rule(position=POSITIONS, action=st.sampled_from([Action.KEEP, Action.REPLACE, None]))
    def decide(self, position: str, action: Action | None) -> None:
        said = str(action or "")
        self.step(changed=self.now[position].action != said)
        bench.set_action(self.amp.shop, socket_id=self.amp.id(position), action=action)
        self.now[position].action = said

    @rule(sections=st.sampled_from([(), ("1",), ("2",)]))
    def leave_unused(self, sections: tuple[str, ...]) -> None:
        self.step(changed=self.now["V1"].unused != sections)
        set_unused_sections(self.amp.shop, socket_id=self.amp.id("V1"), sections=sections)
        self.now["V1"].unused = sections

    @precondition(lambda self: self.before)
    @rule(times=st.integers(1, 4))
    def take_back(self, times: int) -> None:
        for _ in range(min(times, len(self.before))):
            undo.take_back(self.amp.shop)
            self.after.append(self.now)
            self.now = self.before.pop()

    @rule(times=st.integers(1, 4))
    def do_again(self, times: int) -> None:
        for _ in range(min(times, len(self.after))):
            undo.do_again(self.amp.shop)
            self.before.append(self.now)
            self.now = self.after.pop()
        if not self.after:
            with pytest.raises(UserError, match="nothing to do again"):
                undo.do_again(self.amp.shop)

    @rule()
    def start_again(self) -> None:
        self.record.close()
        self.open()

    @invariant()
    def the_record_says_what_the_model_says(self) -> None:
        if not hasattr(self, "amp"):
            return
        job = self.amp.job()
        for socket in job.sockets:
            if (place := self.now.get(socket.position)) is None:
                continue
            state = {"": "not looked yet"}.get(place.found, place.found)
            assert socket.found.state == state
            read = {line.section: [r.value for r in line.readings] for line in socket.lines if line.readings}
            asked = {section: values for section, values in place.read.items() if section not in place.unused}
            assert read == asked
            for line in socket.lines:
                if line.readings:
                    values = asked[line.section]
                    assert line.verdict is not None
                    assert line.verdict.n == len(values)
                    assert line.verdict.mean == pytest.approx(sum(values) / len(values))
            noted = [(o.mark, o.is_fault) for _, stage, o in socket.observations if stage is Stage.AS_FOUND]
            assert noted == place.marks
            assert (str(socket.action) if socket.action_said else "") == place.action
            assert socket.unused == place.unused

    def teardown(self) -> None:
        if hasattr(self, "record"):
            self.record.close()


@pytest.fixture
def furnished(empty_file: Path, tmp_path: Path) -> Path:
    """A record with a set on the bench."""
    path = tmp_path / "set.tubeshelf"
    shutil.copyfile(empty_file, path)
    with closing(open_record(str(path), clock=FixedClock())) as record:
        amplifier(open_shop(record))
    return path


def test_entries_and_taking_back_end_where_a_plain_model_says(furnished: Path, tmp_path: Path) -> None:
    made: list[Path] = []

    def machine() -> Entering:
        path = tmp_path / f"{len(made)}.tubeshelf"
        made.append(path)
        shutil.copyfile(furnished, path)
        return Entering(path)

    run_state_machine_as_test(
        machine,  # type: ignore[arg-type]  # a class to its types, a factory to its code
        settings=settings(
            max_examples=5,
            stateful_step_count=40,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
