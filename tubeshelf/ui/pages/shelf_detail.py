"""The detail of the shelf: the type's numbers and what its free ones read, then the tube's own life."""

from collections.abc import Sequence

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QMenu, QVBoxLayout, QWidget

from tubeshelf.domain.cautions import cautions
from tubeshelf.domain.dates import format_date
from tubeshelf.domain.money import format_money
from tubeshelf.domain.verdict_words import line_text
from tubeshelf.services.shop import Shop
from tubeshelf.services.spare_lines import Spread
from tubeshelf.services.views.shelf import ItemDetail, ItemView, ReadView, TypeCount
from tubeshelf.ui.marks import MarkLabel, verdict_look
from tubeshelf.ui.pages.shelf_acts import ACTS, FIRST
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.facts import Facts
from tubeshelf.ui.parts.flow import FlowLayout
from tubeshelf.ui.parts.histogram import Histogram, HistogramView
from tubeshelf.ui.parts.scale import ScaleView
from tubeshelf.ui.parts.sheet import clear, section
from tubeshelf.ui.parts.text import label

_MOST_NAMES = 6


class TypePart(QWidget):
    """A type: its other names and what may replace it, how many there are, what the free ones read."""

    def __init__(self, shop: Shop) -> None:
        super().__init__()
        self._shop = shop
        self._name = label("", "heading", wrap=True)
        self._others = label("", "soft", wrap=True)
        self._mind = label("", "small", tone="weak", wrap=True)
        self.facts = Facts(4)
        self._apart = label("", "small", wrap=True)
        self._spread_title = section("")
        self.histogram = Histogram()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for part in (self._name, self._others, self._mind):
            column.addWidget(part)
        column.addSpacing(4)
        column.addWidget(self.facts)
        column.addWidget(self._apart)
        column.addSpacing(6)
        column.addWidget(self._spread_title)
        column.addWidget(self.histogram)

    def show_type(self, count: TypeCount | None, spreads: Sequence[Spread], detail: ItemDetail) -> None:
        """Show the type of a tube; ``None`` for a tube whose type is not known."""
        self._name.setText(detail.item.designation or "Unknown type")
        self.facts.setVisible(count is not None)
        self._others.setText("" if count is None else self._names(count))
        self._others.setVisible(bool(self._others.text()))
        tube = self._shop.book.type(detail.item.type_id)
        self._mind.setText(" ".join(cautions(tube)))
        self._mind.setVisible(bool(self._mind.text()))
        apart = "" if count is None or not count.substitutes else _apart(count)
        self._apart.setText(apart)
        self._apart.setVisible(bool(apart))
        if count is not None:
            par = "–" if count.par is None else str(count.par)
            numbers = (("on hand", count.on_hand), ("promised", count.promised), ("free", count.free))
            self.facts.show_facts([*((name, f"{n:,}") for name, n in numbers), ("par", par)])
        self._show_spread(spreads, detail.readings)

    def _names(self, count: TypeCount) -> str:
        book = self._shop.book
        tube = book.type(count.type_id)
        same = ", ".join(tube.equivalents[:_MOST_NAMES]) if tube is not None else ""
        entries = book.catalog.substitutes_for(book.key_of(count.type_id))
        others = [book.designation(book.id_of(entry.found)) for entry in entries]
        may = ", ".join(filter(None, others[:_MOST_NAMES]))
        return "; ".join(filter(None, (same and f"also {same}", may and f"{may} may replace it")))

    def _show_spread(self, spreads: Sequence[Spread], readings: Sequence[ReadView]) -> None:
        testers = {line.tester for line in readings}
        spread = next((s for s in spreads if s.tester in testers), next(iter(spreads), None))
        self.histogram.setVisible(spread is not None)
        if spread is None:
            self._spread_title.setText("No free one has been read yet.")
            return
        unit = f", {spread.unit}" if spread.unit else ""
        self._spread_title.setText(f"Readings of the free ones, {spread.tester}{unit}")
        limit = spread.limit
        scale = ScaleView(
            limit.good_from, limit.reject_below, limit.bogey, unit=spread.unit, words=spread.words
        )
        mine = tuple(line.verdict.mean for line in readings if line.tester == spread.tester)
        self.histogram.show_view(HistogramView(scale, spread.values, mine))


class ItemPart(QWidget):
    """One tube or lot: what it is, its last readings, and what happened to it, newest first."""

    def __init__(self) -> None:
        super().__init__()
        self._name = label("", "strong", wrap=True)
        self._mark = MarkLabel()
        self._card = label("", "soft", wrap=True)
        self._reads = QVBoxLayout()
        self._reads.setSpacing(2)
        self._events = QGridLayout()
        self._events.setHorizontalSpacing(12)
        self._events.setVerticalSpacing(5)
        self._events.setColumnStretch(1, 1)
        head = QHBoxLayout()
        head.addWidget(self._name, 1)
        head.addWidget(self._mark)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self._card)
        column.addLayout(self._reads)
        column.addLayout(self._events)

    def show_item(self, detail: ItemDetail, currency: str) -> None:
        """Show a tube or lot."""
        item = detail.item
        self._name.setText(f"Lot of {item.quantity:,}" if item.lot else item.tag or "No tag")
        read = item.verdict != "not read"
        look = verdict_look(item.verdict, item.doubt) if read else None
        self._mark.show_look(look)
        self._card.setText(_card(item, currency))
        self._show_reads(detail.readings)
        self._show_events(detail)

    def _show_reads(self, readings: Sequence[ReadView]) -> None:
        clear(self._reads)
        for line in readings:
            words = f"{line.line.capitalize()}: {line_text(line.verdict, ())}, {line.tester}"
            self._reads.addWidget(label(words, "small", wrap=True))

    def _show_events(self, detail: ItemDetail) -> None:
        while (old := self._events.takeAt(0)) is not None:
            if (widget := old.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for row, event in enumerate(reversed(detail.events)):
            role = "soft" if event.taken_back else ""
            text = f"{event.text} (taken back)" if event.taken_back else event.text
            day = label(format_date(event.at.astimezone().date()), "soft")
            self._events.addWidget(day, row, 0, Qt.AlignmentFlag.AlignTop)
            self._events.addWidget(label(text, role, wrap=True), row, 1)


class ActsPart(QWidget):
    """The acts on the tube in hand as buttons with their keys; ``asked`` carries the name of one."""

    asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        flow = FlowLayout(self, gap=6)
        self._buttons: dict[str, Act] = {}
        self._menu = QMenu(self)
        self._rest: dict[str, QAction] = {}
        for act in ACTS:
            ask = lambda _=False, name=act.name: self.asked.emit(name)  # noqa: E731
            if act.name in FIRST:
                button = self._buttons[act.name] = Act(act.words, shown=act.key)
                button.clicked.connect(ask)
                flow.addWidget(button)
            else:
                # Made by the menu itself, an action's wrapper does not live as long as the action.
                action = self._rest[act.name] = QAction(f"{act.words}\t{act.key}", self)
                self._menu.addAction(action)
                action.triggered.connect(ask)
        self.more = Act("More …", shown="F9")
        self.more.clicked.connect(self.show_more)
        flow.addWidget(self.more)

    def take_focus(self) -> None:
        """Go to the first act that can be done."""
        shown = [button for button in self._buttons.values() if not button.isHidden()]
        shown[0].setFocus()

    def show_more(self) -> None:
        """Show the menu of the other acts above its button."""
        self._menu.popup(self.more.mapToGlobal(QPoint(0, -self._menu.sizeHint().height())))

    def show_item(self, item: ItemView) -> None:
        """Offer what can be done of this."""
        for act in ACTS:
            if act.name in self._buttons:
                self._buttons[act.name].setVisible(act.can(item))
            else:
                self._rest[act.name].setVisible(act.can(item))


def _apart(count: TypeCount) -> str:
    names = ", ".join(count.substitute_names)
    return f"Apart from these, {count.substitutes:,} free that may replace it: {names}"


def _card(item: ItemView, currency: str) -> str:
    each = " each" if item.lot else ""
    parts = [
        f"in {item.bin}" if item.bin else f"place: {item.place}",
        "" if item.price is None else f"price {format_money(item.price, currency)}{each}",
        "" if item.cost is None else f"cost {format_money(item.cost, currency)}{each}",
        "" if item.matched_set is None else f"set {item.matched_set}",
        f"marked {item.marked}" if item.marked and item.marked != item.designation else "",
        item.condition and f"claimed {item.condition}",
        item.brand,
        item.date_code and f"date {item.date_code}",
        item.construction,
        "boxed" if item.boxed else "",
        "premium" if item.premium else "",
        item.source and f"from {item.source}",
        item.owner and f"belongs to {item.owner}",
        f"promised to {item.promised_to}" if item.promised_to else "",
        item.note,
    ]
    return " · ".join(filter(None, parts))
