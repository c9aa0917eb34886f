"""The tube that was found: where it is now, and what may become of it once another takes its place."""

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import QVBoxLayout, QWidget

from tubeshelf.domain.jobs import Action, Disposition
from tubeshelf.domain.places import Place
from tubeshelf.services.views.bench import SocketView
from tubeshelf.ui.pages.bench_forms import SocketForm
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.flow import FlowLayout
from tubeshelf.ui.parts.text import label

_WHERE = {
    Place.SOCKET: "still in its socket",
    Place.BAG: "in the bag of this job",
    Place.CUSTOMER: "back with the customer",
    Place.SHELF: "on the shelf",
    Place.SCRAP: "scrapped",
    Place.SOLD: "sold",
    Place.REFERENCE: "kept as a reference",
}


class OldTubePart(QWidget):
    """One quiet line about the old tube, with what may be done with it where it lies now."""

    pull = Signal()
    give_back = Signal()
    keep = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._where = label("", "soft")
        acts = QWidget()
        self._row = FlowLayout(acts, gap=6)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self._where)
        column.addWidget(acts)
        self._links = (
            (Place.SOCKET, self._link("Pull", self.pull)),
            (Place.BAG, self._link("Give back", self.give_back)),
            (Place.BAG, self._link("Take onto the shelf…", self.keep)),
        )

    def show_socket(self, socket: SocketView, home: Place) -> None:
        """Show where the tube is that was found, unless it is at ``home`` and nothing says that it goes."""
        place = socket.found.place
        self._where.setText(f"Old tube: {_WHERE.get(Place(place), place)}" if place else "")
        for where, link in self._links:
            link.setVisible(place == where)
            link.setAccessibleName(f"{link.text()}: the old tube of {socket.position}")
        self.setVisible(bool(place) and (place != home or _goes(socket)))

    def _link(self, words: str, asked: SignalInstance) -> Link:
        link = Link(words)
        link.clicked.connect(asked)
        self._row.addWidget(link)
        return link


class KeepForm(SocketForm):
    """Into which bin the old tube goes, now that it is the shop's."""

    def __init__(self) -> None:
        super().__init__()
        self.act.setText("Take onto the shelf")
        self.bin = self.line("Into b&in", "such as C2")
        self.form.row("", label("Only if the customer left it to you.", "small", wrap=True))

    def open_for(self, socket: SocketView) -> None:
        """Ask about the old tube of a socket."""
        self.bin.clear()
        name = socket.found.designation or socket.found.marked or "tube"
        self.begin(f"The old {name} of {socket.position}", self.bin)


def _goes(socket: SocketView) -> bool:
    return socket.action is Action.REPLACE or socket.disposition is Disposition.EMPTY_ON_PURPOSE
