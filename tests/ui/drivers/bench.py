"""A shop with one set on the bench, and a driver that uses the bench page as a technician does: by keys."""

from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import product
from typing import Self

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.judging import Limit, Stage
from tubeshelf.services import intake, jobs, setting_lines, shelf_moves, shelf_reading, testers
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.services.views.bench import JobView, SocketView
from tubeshelf.store.record import Record
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.models.cells import Cell, CellRole
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.parts.buttons import Link

COMPLEMENT = """V1 input 12AX7
V2 phase inverter 12AX7
V3 output 6BQ5 =A
V4 output 6BQ5 =A
V5 rectifier 5Y3GT
"""
"""Five tubes, as an amplifier of no particular make has them."""

_NUMPAD = {"+": Qt.Key.Key_Plus, "-": Qt.Key.Key_Minus, "*": Qt.Key.Key_Asterisk, "/": Qt.Key.Key_Slash}


@dataclass(frozen=True, slots=True)
class Bench:
    """The ids that a test needs: of the job, of the tester, and of the spares by what they are."""

    shop: Shop
    job_id: int
    tester_id: int
    spares: dict[str, int] = field(default_factory=dict)

    def job(self, stage: Stage = Stage.AS_FOUND) -> JobView:
        """What the record holds, read afresh."""
        return jobs.open_job(self.shop, job_id=self.job_id, tester_id=self.tester_id, stage=stage)

    def socket(self, position: str, stage: Stage = Stage.AS_FOUND) -> SocketView:
        """What the record holds of one socket."""
        return next(s for s in self.job(stage).sockets if s.position == position)


def set_up(record: Record, complement: str = COMPLEMENT, *, tester: str = "Tester B") -> Bench:
    """A transconductance tester with a chart for two types, three spares, and a job of five sockets."""
    shop = open_shop(record)
    tester_id, _ = testers.save_tester(
        shop,
        fields={
            "name": tester,
            "method": "transconductance",
            "unit": "µmho",
            "full_scale": "15000",
            "relative_percent": "3",
            "good_percent": "65",
            "reject_percent": "50",
            "field_names": "heater; range; pins; press",
        },
    )
    spares: dict[str, int] = {}
    for type_name, limit, sections in (
        ("12AX7", Limit(1000, 800, 1600, unit="µmho", source="shop"), ("1", "2")),
        ("6BQ5", Limit(7000, 5600, 11300, unit="µmho", source="shop"), ("1",)),
    ):
        type_id = shop.book.id_of(type_name)
        for section in sections:
            line_id, _ = setting_lines.save_line(
                shop,
                tester_id=tester_id,
                type_id=type_id,
                label=f"section {section}" if len(sections) > 1 else "gm",
                section=section,
                quantity="transconductance",
                fields={"heater": "6.3", "range": "C", "pins": "2·3·7", "press": "P4"},
                limit=limit,
            )
        spares[type_name] = _spare(shop, type_name, tester_id, line_id, section)
    _, numbered = intake.new_job(
        shop,
        customer="Ada Larch",
        maker="Larkmere",
        model="A12 practice amplifier",
        serial="30417",
        complement=complement,
        complaint="weak and crackling",
    )
    job_id = next(thing for kind, thing in numbered.things if kind == "job")
    return Bench(shop, job_id, tester_id, spares)


def _spare(shop: Shop, type_name: str, tester_id: int, line_id: int, section: str) -> int:
    (item_id,), _ = shelf_moves.receive(shop, type_name=type_name, bin="C2", condition=Condition.NOS)
    shelf_reading.read_spare(
        shop,
        item_id=item_id,
        line_id=line_id,
        section=section,
        tester_id=tester_id,
        text="9000" if type_name == "6BQ5" else "1480",
    )
    return item_id


class BenchDriver:
    """Keys in, words out."""

    def __init__(self, qtbot: QtBot, bench: Bench, show: Callable[..., QWidget], *, job: bool = True) -> None:
        self.bridge = Bridge()
        self.printed: list[int] = []
        self.pictured: list[int] = []
        self.remembered: list[int] = []
        self.page = BenchPage(
            bench.shop,
            self.bridge,
            print_retube=self.printed.append,
            show_picture=self.pictured.append,
            last_job=bench.job_id if job else None,
            remember=self.remembered.append,
        )
        self.said: list[str] = []
        self.bridge.changed.connect(lambda changes: self.said.append(changes.said))
        self._host = QWidget()  # takes what the page wants to be as wide as; the window of a test cannot
        self.page.setParent(self._host)
        self.page.setGeometry(0, 0, 1366, 690)
        show(self._host, 1366, 690)
        self.page.setFocus()
        self._qtbot = qtbot

    # ---- Keys

    def type(self, text: str) -> Self:
        """Type characters where the keyboard is."""
        for character in text:
            QTest.keyClicks(self._focus(), character)
        return self

    def press(self, *keys: str | Qt.Key) -> Self:
        """Press keys: signs of the number pad, or keys by code or name (``Ctrl+Z``, ``F9``)."""
        for key in keys:
            if isinstance(key, str) and key in _NUMPAD:
                QTest.keyClick(self._focus(), _NUMPAD[key], Qt.KeyboardModifier.KeypadModifier)
            elif isinstance(key, str):
                QTest.keySequence(self._focus(), key)
            else:
                QTest.keyClick(self._focus(), key)
            self.page.settle()  # what a moment later comes by itself
        return self

    def rest(self) -> None:
        """Wait until all that follows from the last key is on show."""
        self._qtbot.waitUntil(lambda: self.page.idle)

    def enter(self, text: str = "") -> Self:
        """Type and press Enter, as on the number pad."""
        return self.type(text).press(Qt.Key.Key_Enter)

    def escape(self) -> Self:
        """Press Escape."""
        return self.press(Qt.Key.Key_Escape)

    def read_pair(self, *values: str) -> Self:
        """As intended, then these readings."""
        self.press("+")
        for value in values:
            self.enter(value)
        return self

    def offers(self, words: str) -> bool:
        """Whether a link with these words can be seen."""
        return any(link.isVisible() and link.text() == words for link in self.page.findChildren(Link))

    def spoken(self, words: str) -> str:
        """The accessible name of a link that can be seen."""
        link = next(x for x in self.page.findChildren(Link) if x.isVisible() and x.text() == words)
        return link.accessibleName()

    def wait_for_spares(self, position: str) -> None:
        """Wait until the spares of a socket are shown, which come once its row is painted."""
        self._qtbot.waitUntil(
            lambda: f"Spares for {position}, best first" in self.detail and self.offers("Install F9")
        )

    def click(self, words: str) -> Self:
        """Take a link that can be seen."""
        link = next(x for x in self.page.findChildren(Link) if x.isVisible() and x.text() == words)
        QTest.mouseClick(link, Qt.MouseButton.LeftButton)
        return self

    def click_pins(self, *pins: str) -> Self:
        """Click pins on the base that the marks show."""
        picture = self.page.detail.marks.facts.picture
        QApplication.processEvents()
        for pin in pins:
            at = next(point for name, point, _ in picture.places() if name == pin)
            QTest.mouseClick(picture, Qt.MouseButton.LeftButton, pos=at.toPoint())
        return self

    def _focus(self) -> QWidget:
        focus = self.page.window().focusWidget()
        assert focus is not None
        return focus

    # ---- What is shown

    @property
    def field(self) -> str:
        """What stands in the entry."""
        return self.page.table.field.text()

    @property
    def at(self) -> str:
        """Where the entry stands, in the words of a screen reader."""
        return self.page.table.field.accessibleName()

    @property
    def asked(self) -> str:
        """The sentence in the line."""
        return self.page.table.note.text

    @property
    def foot(self) -> str:
        """The counts below the table."""
        return _texts(self.page.frame.counts)

    @property
    def detail(self) -> str:
        """All words of the detail that are on show."""
        return _texts(self.page.detail)

    @property
    def warning(self) -> str:
        """The banner, if there is one."""
        banner = self.page.frame.banner
        return banner.accessibleName() if banner.isVisible() else ""

    def row(self, position: str) -> list[str]:
        """What each cell of a row says."""
        model = self.page.table.model()
        for at in range(model.rowCount()):
            if model.index(at, 0).data() == position:
                return [
                    str(model.index(at, c).data(Qt.ItemDataRole.AccessibleTextRole))
                    for c in range(model.columnCount())
                ]
        raise LookupError(position)

    def cell(self, position: str, title: str) -> Cell:
        """A cell of a row, by the title of its column."""
        model = self.page.table.model()
        for row, column in product(range(model.rowCount()), range(model.columnCount())):
            headed = model.headerData(column, Qt.Orientation.Horizontal) == title
            if headed and model.index(row, 0).data() == position:
                cell = model.index(row, column).data(CellRole)
                assert isinstance(cell, Cell)
                return cell
        raise LookupError(f"{title} of {position}")


def _texts(widget: QWidget) -> str:
    QApplication.processEvents()
    return "\n".join(label.text() for label in widget.findChildren(QLabel) if label.isVisible())
