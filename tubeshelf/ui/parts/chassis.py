"""The chassis drawn from above or from below: a mark and words at each socket, moved by mouse or keys."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QApplication, QSizePolicy, QWidget

from tubeshelf.domain.chassis import LARGE_STEP, STEP, Seat, room_for, towards
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.chassispaint import CAPTION, SocketMark, paint_chassis, paint_rings, paint_socket

_WIDEST, _HIGHEST = 124, 104
_LEAST_WIDTH, _LEAST_ROW = 528, 64
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class ChassisMap(QWidget):
    """Draws marks on a chassis; the keyboard goes from socket to socket, or moves them while ``placing``.

    ``chosen`` carries the position that was clicked or entered, ``pointed`` the one the keyboard is at,
    ``moved`` says that a socket has a new place, ``lifted`` that a drag began while not placing.
    """

    chosen = Signal(str)
    pointed = Signal(str)
    moved = Signal()
    lifted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._marks: list[SocketMark] = []
        self._at, self._in_hand = 0, ""
        self._grip: tuple[QPointF, QPointF] | None = None
        self._dragging = False
        self.placing, self.below = False, False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    # ---- What is shown

    def show_marks(self, marks: Sequence[SocketMark], in_hand: str) -> None:
        """Show these sockets, one of them in hand; places that are being moved stay where they are."""
        seats = self.seats if self.placing else {}
        here = self.at
        again = [mark.position for mark in self._marks] == [mark.position for mark in marks]
        self._marks = [replace(mark, seat=seats.get(mark.position, mark.seat)) for mark in marks]
        if in_hand != self._in_hand or not again:
            here = in_hand
        self._in_hand = in_hand
        self._point_at(here)
        if not again:
            self.updateGeometry()

    def show_seats(self, seats: Mapping[str, Seat]) -> None:
        """Put sockets elsewhere."""
        self._marks = [replace(mark, seat=seats.get(mark.position, mark.seat)) for mark in self._marks]
        self.update()

    def look_from(self, *, below: bool) -> None:
        """From below left and right are exchanged, and the pins are seen."""
        self.below = below
        self.update()

    @property
    def marks(self) -> tuple[SocketMark, ...]:
        """What is shown, in test order."""
        return tuple(self._marks)

    @property
    def seats(self) -> dict[str, Seat]:
        """Where every socket is now, from above."""
        return {mark.position: mark.seat for mark in self._marks}

    @property
    def at(self) -> str:
        """The position that the keyboard is at; empty if there is none."""
        return self._marks[self._at].position if self._marks else ""

    def centre_of(self, position: str) -> QPointF:
        """Where a socket is drawn; StopIteration if there is none such."""
        return self._centre(next(mark for mark in self._marks if mark.position == position))

    def sizeHint(self) -> QSize:
        """Room for a handful of sockets with their words."""
        return QSize(640, 420)

    def minimumSizeHint(self) -> QSize:
        """Small: words are cut before marks are, but rows do not run into each other."""
        rows = round(1 / room_for(len(self._marks)).depth)
        return QSize(_LEAST_WIDTH, max(rows, 3) * _LEAST_ROW + CAPTION + 6)

    # ---- Keys and mouse

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows go to the next socket or move the one at hand, Enter goes there or on to the next."""
        arrow = _ARROWS.get(Qt.Key(event.key()))
        if not self._marks:
            super().keyPressEvent(event)
        elif arrow is not None and self.placing:
            step = LARGE_STEP if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else STEP
            self._put(self._seen(self._marks[self._at].seat).moved(arrow[0] * step, arrow[1] * step))
        elif arrow is not None:
            self._step_to(towards([self._seen(mark.seat) for mark in self._marks], self._at, *arrow))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.placing:
            self._step_to((self._at + 1) % len(self._marks))
        elif event.key() == Qt.Key.Key_Backspace and self.placing:
            self._step_to((self._at - 1) % len(self._marks))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.chosen.emit(self.at)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the socket under the pointer."""
        hit = self._hit(event.position())
        if event.button() is Qt.MouseButton.LeftButton and hit is not None:
            self._grip = event.position(), self._centre(self._marks[hit]) - event.position()
            self._step_to(hit)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag it along; a hand that trembles drags nothing."""
        if self._grip is None:
            return
        start, offset = self._grip
        far = (event.position() - start).manhattanLength() >= QApplication.startDragDistance()
        if not self._dragging and far:
            self._dragging = True
            if not self.placing:
                self.placing = True
                self.lifted.emit()
        if self._dragging:
            room, there = self._chassis(), event.position() + offset
            across, deep = (there.x() - room.left()) / room.width(), (there.y() - room.top()) / room.height()
            self._put(Seat(across, deep).moved(0, 0))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Leave it where it is; without a drag it was a click."""
        grip, dragged = self._grip, self._dragging
        self._grip, self._dragging = None, False
        if grip is not None and not dragged and not self.placing:
            self.chosen.emit(self.at)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The ring of the keyboard comes."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """The ring of the keyboard goes."""
        super().focusOutEvent(event)
        self.update()

    # ---- Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """The chassis, its front, every socket; the one at hand last, so that it is on top."""
        palette = tokens.palette_now()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            chassis = self._chassis()
            paint_chassis(painter, palette, chassis, self.font(), below=self.below)
            last = self._marks[self._at : self._at + 1]
            for mark in [*(m for m in self._marks if m not in last), *last]:
                box, at = self._box(mark), mark.position
                ringed = at == self.at and self.hasFocus()
                paint_rings(painter, palette, box, in_hand=at == self._in_hand, focus=ringed)
                paint_socket(painter, palette, box, mark, self.font(), below=self.below)

    # ---- Where things are

    def _chassis(self) -> QRectF:
        return QRectF(self.rect()).adjusted(6, 4, -6, -CAPTION - 2)

    def _seen(self, seat: Seat) -> Seat:
        """A seat as it is seen from this side, or the other way round."""
        return seat.mirrored() if self.below else seat

    def _centre(self, mark: SocketMark) -> QPointF:
        return self._box(mark).center()

    def _box(self, mark: SocketMark) -> QRectF:
        """The room of a socket; at the edge it moves in so far that nothing is cut."""
        chassis, room = self._chassis(), room_for(len(self._marks))
        width = min(_WIDEST, room.width * chassis.width() - 4)
        height = min(_HIGHEST, room.depth * chassis.height() - 4)
        seat = self._seen(mark.seat)
        box = QRectF(0, 0, width, height)
        box.moveCenter(
            QPointF(chassis.left() + seat.x * chassis.width(), chassis.top() + seat.y * chassis.height())
        )
        box.moveLeft(min(max(box.left(), chassis.left() + 2), chassis.right() - 2 - width))
        box.moveTop(min(max(box.top(), chassis.top() + 2), chassis.bottom() - 2 - height))
        return box

    def _hit(self, point: QPointF) -> int | None:
        """The socket under a point, the nearest where several overlap."""
        hit = [at for at, mark in enumerate(self._marks) if self._box(mark).contains(point)]
        far = {at: (self._centre(self._marks[at]) - point).manhattanLength() for at in hit}
        return min(hit, key=far.__getitem__, default=None)

    def _put(self, seen: Seat) -> None:
        mark = self._marks[self._at]
        seat = self._seen(seen).moved(0, 0)
        if seat != mark.seat:
            self._marks[self._at] = replace(mark, seat=seat)
            self.update()
            self.moved.emit()

    def _step_to(self, at: int) -> None:
        self._point_at(self._marks[at].position)
        self.pointed.emit(self.at)

    def _point_at(self, position: str) -> None:
        positions = [mark.position for mark in self._marks]
        self._at = positions.index(position) if position in positions else 0
        spoken = self._marks[self._at].spoken if self._marks else "no sockets"
        name = f"Chassis map: {spoken}"
        if name != self.accessibleName():
            self.setAccessibleName(name)
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))
        self.update()
