"""The chassis map beside the bench, by keys and mouse: placing, going there, from below, two views agree."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.records import FixedClock
from tests.ui.drivers.bench import Bench, BenchDriver, set_up
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.chassis import LARGE_STEP, STEP, Seat
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.domain.palette import Palette
from tubeshelf.services import bench as entries
from tubeshelf.services import finding, intake, intake_edit, pulls, spares
from tubeshelf.services.changes import Kind
from tubeshelf.services.chassis import chassis_of, place_sockets
from tubeshelf.services.shop import open_shop
from tubeshelf.services.undo import take_back
from tubeshelf.ui.pages.bench_map_window import ChassisWindow
from tubeshelf.ui.pages.bench_map_words import marks_of

Show = Callable[..., QWidget]
PLACES = {
    "V1": Seat(0.2, 0.8),
    "V2": Seat(0.5, 0.8),
    "V3": Seat(0.3, 0.2),
    "V4": Seat(0.6, 0.2),
    "V5": Seat(0.9, 0.2),
}


@pytest.fixture(scope="module")
def furnished(empty_file: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Bench]:
    """A record with a job on a set whose sockets are placed, made once and copied for each test."""
    path = tmp_path_factory.mktemp("map") / "furnished.tubeshelf"
    shutil.copyfile(empty_file, path)
    with closing(open_record(str(path), clock=FixedClock())) as record:
        bench = set_up(record)
        view = chassis_of(bench.shop, job_id=bench.job_id)
        place_sockets(bench.shop, model_id=view.model_id, places=PLACES)
        return path, bench


@pytest.fixture
def bench(furnished: tuple[Path, Bench], tmp_path: Path, clock: FixedClock) -> Iterator[Bench]:
    path = tmp_path / "shop.tubeshelf"
    shutil.copyfile(furnished[0], path)
    with closing(open_record(str(path), clock=clock)) as record:
        yield replace(furnished[1], shop=open_shop(record))


@pytest.fixture
def at_bench(bench: Bench, qtbot: QtBot, shown: Show) -> BenchDriver:
    return BenchDriver(qtbot, bench, shown)


class MapDriver:
    """Opens the map by its key and uses it."""

    def __init__(self, at_bench: BenchDriver) -> None:
        at_bench.press("Ctrl+M")
        window = at_bench.page.chassis.window
        assert window is not None
        self.window: ChassisWindow = window
        QTest.qWaitForWindowExposed(window)
        self.map = window.map

    def press(self, *keys: Qt.Key | str, shift: bool = False) -> "MapDriver":
        """Keys by code, or by name (``Ctrl+E``)."""
        held = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
        for key in keys:
            focus = self.window.focusWidget()
            assert focus is not None
            if isinstance(key, str):
                QTest.keySequence(focus, key)
            else:
                QTest.keyClick(focus, key, held)
        return self

    def point(self, position: str) -> QPoint:
        """Where a socket is drawn."""
        return self.map.centre_of(position).toPoint()

    def drag(self, position: str, right: int, down: int) -> "MapDriver":
        """Drag a socket by so many pixels."""
        start = self.point(position)
        QTest.mousePress(self.map, Qt.MouseButton.LeftButton, pos=start)
        for part in (0.5, 1.0):
            QTest.mouseMove(self.map, start + QPoint(round(right * part), round(down * part)))
        end = start + QPoint(right, down)
        QTest.mouseRelease(self.map, Qt.MouseButton.LeftButton, pos=end)
        return self

    @property
    def spoken(self) -> str:
        """What a screen reader says of the socket that the keyboard is at."""
        return self.map.accessibleName().removeprefix("Chassis map: ")

    @property
    def words(self) -> str:
        """The line below the map."""
        return self.window.words.text()

    @property
    def hint(self) -> str:
        """The line above the map, if there is one."""
        return self.window.hint.text() if self.window.hint.isVisible() else ""


def comes_true(condition: Callable[[], bool], milliseconds: int = 2000) -> bool:
    """Wait for another window to get the keyboard, which the system gives when it likes."""
    for _ in range(milliseconds // 20):
        if condition():
            return True
        QTest.qWait(20)
    return condition()


def saved(bench: Bench) -> dict[str, Seat]:
    view = chassis_of(bench.shop, job_id=bench.job_id)
    return {socket.position: socket.placed.seat for socket in view.sockets if socket.placed.saved}


def test_the_map_opens_beside_the_list_with_the_socket_in_hand(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench)
    assert chassis.window.isWindow()
    assert chassis.window.windowTitle().startswith("Chassis map, job 1")
    assert chassis.words == chassis.spoken == "V1, input, for a 12AX7, not looked yet"
    assert at_bench.page.table.isVisible()
    assert chassis.hint == ""


def test_arrow_keys_go_from_socket_to_socket_and_enter_takes_one_in_hand(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench)
    chassis.press(Qt.Key.Key_Right)
    assert chassis.map.at == "V2"
    chassis.press(Qt.Key.Key_Up)
    assert chassis.map.at == "V4"
    chassis.press(Qt.Key.Key_Return)
    assert at_bench.at.startswith("V4,")
    assert comes_true(at_bench.page.table.field.hasFocus)
    assert chassis.window.isVisible()


def test_a_click_goes_there_and_the_number_pad_goes_on(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench)
    QTest.mouseClick(chassis.map, Qt.MouseButton.LeftButton, pos=chassis.point("V3"))
    at_bench.read_pair("9200")
    assert at_bench.row("V3")[3] == "9,200"
    assert chassis.map.at == "V4"  # the entry went on, and the map with it


def test_a_reading_in_the_list_is_on_the_map_at_once_and_gone_when_taken_back(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench)
    at_bench.press("+").enter("400").enter("1510")
    assert at_bench.row("V1")[4].startswith("reject")
    chassis.press(Qt.Key.Key_Left)
    assert chassis.map.at == "V1"
    assert chassis.spoken == "V1, input, 12AX7, reject, transconductance, section 1"
    at_bench.press("/", "/", "/")
    assert chassis.spoken == "V1, input, for a 12AX7, not looked yet"


def test_the_tube_in_hand_is_out_of_its_socket_until_it_is_read(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench)
    at_bench.press("+")
    assert chassis.spoken == "V1, input, 12AX7, not read, now on the tester or the bench"
    at_bench.enter("1540")
    assert "now on the tester" in chassis.spoken
    at_bench.enter("1510").press("-")
    assert chassis.spoken == "V1, input, 12AX7, good, transconductance"


def test_a_pulled_tube_leaves_its_socket_empty_on_the_map(at_bench: BenchDriver, bench: Bench) -> None:
    socket_id = bench.socket("V3").id
    finding.found_as_intended(bench.shop, socket_id=socket_id)
    pulls.pull(bench.shop, socket_id=socket_id)
    finding.set_empty(bench.shop, socket_id=bench.socket("V4").id)
    chassis = MapDriver(at_bench)
    at_bench.page.go_to("V3")
    assert chassis.spoken == "V3, output, 6BQ5, not read, now in the job's bag"
    at_bench.page.go_to("V4")
    assert chassis.spoken == "V4, output, found empty"


def test_an_installed_tube_is_told_as_found_and_as_left(at_bench: BenchDriver, bench: Bench) -> None:
    socket_id = bench.socket("V3").id
    finding.found_as_intended(bench.shop, socket_id=socket_id)
    spares.install(bench.shop, item_id=bench.spares["6BQ5"], socket_id=socket_id)
    chassis = MapDriver(at_bench)
    chassis.press(Qt.Key.Key_Up)
    assert chassis.spoken == "V3, output, 6BQ5, not read, replaced since"
    chassis.press("Ctrl+M")
    assert comes_true(at_bench.page.table.field.hasFocus)
    at_bench.press("Ctrl+L")
    assert chassis.window.head._facts.accessibleName() == "job 1 · as left · Tester B"
    at_bench.page.go_to("V3")
    at_bench.enter("9400")
    at_bench.page.go_to("V3")
    assert chassis.spoken == "V3, output, 6BQ5, good, transconductance, installed"


def test_what_another_page_wrote_reaches_list_and_map(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench)
    socket_id = bench.socket("V1").id
    at_bench.bridge.changed.connect(at_bench.page.reload)  # as the window does
    _, changes = finding.set_found(bench.shop, socket_id=socket_id, text="12AU7", origin="jobs")
    at_bench.bridge.publish(changes)
    _, changes = entries.observe(
        bench.shop,
        socket_id=socket_id,
        stage=Stage.AS_FOUND,
        mark=Mark.SHORT,
        is_fault=True,
        pins="2-3",
        origin="jobs",
    )
    at_bench.bridge.publish(changes)
    assert chassis.spoken.startswith("V1, input, 12AU7, short, pins 2–3, ")
    assert chassis.spoken.endswith(", wrong type")
    row = at_bench.row("V1")
    assert row[2].startswith("12AU7")
    assert row[4].startswith("short")
    assert row[5].startswith("wrong type")


def test_places_saved_elsewhere_move_the_sockets(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench)
    view = chassis_of(bench.shop, job_id=bench.job_id)
    _, changes = place_sockets(bench.shop, model_id=view.model_id, places={"V1": Seat(0.9, 0.9)})
    at_bench.bridge.publish(changes)
    assert chassis.map.seats["V1"] == Seat(0.9, 0.9)


def test_arrow_keys_place_a_socket_and_shift_moves_it_farther(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench)
    chassis.press("Ctrl+E")
    assert "arrow keys" in chassis.hint
    chassis.press(Qt.Key.Key_Right, Qt.Key.Key_Up)
    chassis.press(Qt.Key.Key_Return)  # on to V2
    chassis.press(Qt.Key.Key_Left, shift=True)
    assert saved(bench) == PLACES
    chassis.press("Ctrl+S")
    assert saved(bench) == PLACES | {
        "V1": Seat(0.2 + STEP, 0.8 - STEP),
        "V2": Seat(0.5 - LARGE_STEP, 0.8),
    }
    assert at_bench.said[-1] == "Chassis map of the Larkmere A12 practice amplifier saved"
    assert chassis.hint == ""
    take_back(bench.shop)
    assert saved(bench) == PLACES


def test_saved_places_are_taken_back_and_done_again_on_the_map(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench).press("Ctrl+E", Qt.Key.Key_Up, "Ctrl+S")
    moved = PLACES | {"V1": Seat(0.2, 0.8 - STEP)}
    assert chassis.map.seats == moved
    chassis.press("Ctrl+Z")
    assert chassis.map.seats == saved(bench) == PLACES
    assert "Chassis map" in at_bench.said[-1]
    chassis.press("Ctrl+Shift+Z")
    assert chassis.map.seats == saved(bench) == moved


def test_backspace_goes_back_to_the_socket_before(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench).press("Ctrl+E", Qt.Key.Key_Backspace)
    assert chassis.map.at == "V5"


def test_a_socket_is_dragged_and_saved(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench)
    start = chassis.point("V5")
    chassis.drag("V5", -200, 100)
    assert "Drag sockets" in chassis.hint
    assert abs(chassis.point("V5").x() - (start.x() - 200)) <= 20  # it came to rest on the raster
    chassis.press("Ctrl+S")
    moved = saved(bench)
    assert moved["V5"].x < PLACES["V5"].x
    assert moved["V5"].y > PLACES["V5"].y
    assert {p: s for p, s in moved.items() if p != "V5"} == {p: s for p, s in PLACES.items() if p != "V5"}
    assert not at_bench.at.startswith("V5")


def test_nothing_is_dragged_off_the_chassis(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench).drag("V1", -2000, 2000).press("Ctrl+S")
    assert saved(bench)["V1"] == Seat(0.0, 1.0)
    assert chassis.map.rect().contains(chassis.point("V1"))


def test_escape_puts_back_what_was_moved_and_then_closes(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench).drag("V5", -200, 100)
    chassis.press(Qt.Key.Key_Escape)
    assert chassis.map.seats == PLACES
    assert chassis.window.isVisible()
    chassis.press(Qt.Key.Key_Escape)
    assert not chassis.window.isVisible()
    assert saved(bench) == PLACES
    assert comes_true(at_bench.page.table.field.hasFocus)


def test_a_reading_meanwhile_leaves_what_is_being_moved(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench).press("Ctrl+E", Qt.Key.Key_Up)
    _, changes = finding.set_found(bench.shop, socket_id=bench.socket("V1").id, text="12AX7")
    at_bench.bridge.publish(changes)
    assert chassis.map.seats["V1"] == Seat(0.2, 0.8 - STEP)
    assert "not looked" not in chassis.spoken


def test_from_below_left_and_right_are_exchanged_and_the_pins_are_told(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench)
    above = {position: chassis.point(position) for position in PLACES}
    assert not chassis.window.base.isVisible()
    chassis.press("Ctrl+B")
    assert chassis.window.base.isVisible()
    assert chassis.window.base.accessibleName().startswith("noval base from below: 1 plate (2)")
    assert chassis.window.base_title.text() == "Pins of V1 from below, wired for 12AX7"
    width = chassis.map.width()
    for position, was in above.items():
        assert abs(chassis.point(position).x() - (width - was.x())) <= 2
    chassis.press(Qt.Key.Key_Left)  # V2 is left of V1 now
    assert chassis.map.at == "V2"
    chassis.press("Ctrl+B")
    assert not chassis.window.base.isVisible()
    assert abs(chassis.point("V1").x() - above["V1"].x()) <= 1


def test_from_below_the_pins_of_a_british_base_stand_as_on_the_base(bench: Bench) -> None:
    """The cathode of five pins in the middle, the plate pin farther out than the grid's."""
    _, changes = intake.new_job(
        bench.shop, customer="Otto Fenn", model="Wren 3", complement="V1 detector MHL4\nV2 output PX4"
    )
    job_id = next(thing for kind, thing in changes.things if kind is Kind.JOB)
    five, four = (mark.shape for mark in marks_of(bench.shop, chassis_of(bench.shop, job_id=job_id), {}))
    assert five is not None
    assert four is not None
    plate, grid, *_, cathode = (reach for _, reach in five.places(5))
    assert (plate > grid, cathode) == (True, 0.0)
    assert [reach for _, reach in four.places(4)] == [reach for _, reach in five.places(4)]
    assert five.schematic


def test_however_small_the_window_rows_do_not_run_into_each_other(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench).press("Ctrl+B", "Ctrl+E")
    chassis.window.resize(200, 200)
    QTest.qWait(50)
    assert chassis.window.base.isVisible()
    assert chassis.window.height() <= 640
    assert chassis.window.width() <= 640
    apart = chassis.point("V1").y() - chassis.point("V3").y()
    assert apart >= 60  # a position, a socket and a word


def test_moved_from_below_a_socket_goes_the_way_the_arrow_points(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench).press("Ctrl+B", "Ctrl+E")
    before = chassis.point("V1")
    chassis.press(Qt.Key.Key_Left)
    assert chassis.point("V1").x() < before.x()
    chassis.press("Ctrl+S")
    assert saved(bench)["V1"] == Seat(0.2 + STEP, 0.8)


def test_a_set_that_nobody_has_placed_is_shown_as_proposed_until_saved(
    bench: Bench, qtbot: QtBot, shown: Show
) -> None:
    _, changes = intake.new_job(
        bench.shop, customer="Ada Larch", model="Other", complement="V1 input 12AX7\nV2 output 6BQ5"
    )
    job_id = next(thing for kind, thing in changes.things if kind is Kind.JOB)
    at_bench = BenchDriver(qtbot, replace(bench, job_id=job_id), shown)
    chassis = MapDriver(at_bench)
    assert chassis.hint.startswith("Proposed: nobody has said yet")
    assert chassis.spoken.endswith("place proposed")
    chassis.press("Ctrl+S")
    assert chassis.hint == ""
    assert not chassis.window.save.isVisible()
    assert chassis_of(bench.shop, job_id=job_id).unsaved == ()


def test_what_the_model_has_no_more_is_drawn_and_the_rest_saved(at_bench: BenchDriver, bench: Bench) -> None:
    _, changes = intake.new_job(
        bench.shop, customer="Bo Elm", maker="Larkmere", model="A12 practice amplifier", serial="2"
    )
    other = next(thing for kind, thing in changes.things if kind is Kind.JOB)
    intake_edit.edit_complement(bench.shop, job_id=other, text="V1 input 12AX7\nV2 output 6BQ5")
    chassis = MapDriver(at_bench)
    assert list(chassis.map.seats) == list(PLACES)
    chassis.press("Ctrl+E", Qt.Key.Key_Up, "Ctrl+S")
    assert saved(bench) == {"V1": Seat(0.2, 0.8 - STEP), "V2": PLACES["V2"]}
    assert chassis.window.notice.text == ""


def test_propose_again_forgets_what_was_placed_once_it_is_saved(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench).press("Ctrl+E", "Ctrl+N")
    assert chassis.map.seats != PLACES
    assert saved(bench) == PLACES
    chassis.press("Ctrl+S")
    assert saved(bench) == chassis.map.seats


def test_loose_tubes_have_no_map_and_the_page_says_so(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    number, changes = intake.new_job(
        bench.shop, customer="Otto Fenn", title="Shoebox", complement="T1 12AX7\nT2 6BQ5"
    )
    job_id = next(thing for kind, thing in changes.things if kind is Kind.JOB)
    at_bench = BenchDriver(qtbot, replace(bench, job_id=job_id), shown)
    at_bench.press("Ctrl+M")
    assert at_bench.page.chassis.window is None
    assert at_bench.page.notice.text == f"Job {number} is a box of loose tubes: it has no chassis map."


def test_another_job_on_the_bench_is_another_map(at_bench: BenchDriver, bench: Bench) -> None:
    chassis = MapDriver(at_bench)
    _, changes = intake.new_job(
        bench.shop, customer="Ada Larch", model="Other", complement="V1 input 12AX7\nV7 output 6BQ5"
    )
    job_id = next(thing for kind, thing in changes.things if kind is Kind.JOB)
    at_bench.page.open_job(job_id)
    assert list(chassis.map.seats) == ["V1", "V7"]
    at_bench.page.leave_job()
    assert not chassis.window.isVisible()


def test_ctrl_m_goes_to_the_list_and_back(at_bench: BenchDriver) -> None:
    chassis = MapDriver(at_bench)
    assert comes_true(chassis.map.hasFocus)
    chassis.press("Ctrl+M")
    assert comes_true(at_bench.page.table.field.hasFocus)
    assert chassis.window.isVisible()
    again = MapDriver(at_bench)
    assert again.window is chassis.window
    assert comes_true(again.map.hasFocus)


def test_each_state_is_drawn_and_differs_in_grey(
    at_bench: BenchDriver, bench: Bench, palette: Palette
) -> None:
    """Good, reject, short, empty and not looked yet are told apart without colour, light and dark."""
    shop = bench.shop
    for position, mark in (("V2", None), ("V3", Mark.SHORT), ("V4", Mark.GAS)):
        finding.found_as_intended(shop, socket_id=bench.socket(position).id)
        if mark is not None:
            entries.observe(
                shop,
                socket_id=bench.socket(position).id,
                stage=Stage.AS_FOUND,
                mark=mark,
                is_fault=True,
            )
    finding.set_empty(shop, socket_id=bench.socket("V5").id)
    chassis = MapDriver(at_bench)
    chassis.map.clearFocus()
    image = chassis.map.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    rings = {}
    for position in ("V2", "V3", "V4", "V5"):
        centre = chassis.point(position)
        around = image.copy(centre.x() - 22, centre.y() - 22, 44, 44)
        ground = QColor(around.pixel(0, 0)).lightness()
        rings[position] = tuple(
            abs(QColor(around.pixel(x, y)).lightness() - ground) > 40 for x in range(44) for y in range(44)
        )
    assert len(set(rings.values())) == 4
    assert sum(rings["V5"]) < sum(rings["V3"])  # an empty socket has nothing in it
