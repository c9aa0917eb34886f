"""Which keys drive the bench on this computer: the five of the number pad, each of which can be another."""

from dataclasses import asdict

from PySide6.QtCore import Qt, Signal

from tubeshelf.domain.errors import UserError
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.text import label
from tubeshelf.ui.signs import KEYS, USUAL, Signs, shown

_WHERE = "Kept on this computer, since number pads differ. The foot of the Bench page shows them."
_NAMES = {
    "enter": "&Go on",
    "plus": "As &intended, again",
    "minus": "Ba&ck one",
    "slash": "Ta&ke back",
    "star": "Ma&rks",
}


class KeysSheet(Sheet):
    """``chosen`` carries the Signs as soon as the five go together; two acts on one key are told in a line.

    ``said`` has words for the status line.
    """

    chosen = Signal(object)
    said = Signal(str)

    def __init__(self, signs: Signs) -> None:
        super().__init__("Keys of the bench", scrolls=True)
        self._form = Form()
        self.keys: dict[str, Choice] = {}
        for act, key in asdict(signs).items():
            choice = self.keys[act] = Choice([(shown(one), one) for one in KEYS])
            choice.choose(key)
            choice.activated.connect(lambda _=0, act=act: self._chosen(act))
            self._form.row(_NAMES[act], choice)
        self.usual = Link("As usual")
        self.usual.clicked.connect(self._as_usual)
        self.body.addWidget(self._form)
        self.body.addWidget(label(_WHERE, "small", wrap=True))
        self.body.addWidget(self.usual, 0, Qt.AlignmentFlag.AlignLeft)
        self.body.addStretch(1)

    def _chosen(self, act: str) -> None:
        signs = Signs(**{name: str(choice.currentData()) for name, choice in self.keys.items()})
        self._form.clear()
        try:
            signs.check()
        except UserError as error:
            self._form.complain(self.keys[act], error.sentence)
        else:
            self._keep(signs)

    def _as_usual(self) -> None:
        self._form.clear()
        for act, key in asdict(USUAL).items():
            self.keys[act].choose(key)
        self._keep(USUAL)

    def _keep(self, signs: Signs) -> None:
        self.chosen.emit(signs)
        self.said.emit("Saved the keys of the bench on this computer")
