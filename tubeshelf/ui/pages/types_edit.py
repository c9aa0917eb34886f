"""The form of a type, for a new one and for the shop's own values over a shipped one."""

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QWidget

from tubeshelf.domain.types import Basing, Heating
from tubeshelf.services.changes import Changes
from tubeshelf.services.shop import Shop
from tubeshelf.services.type_fields import TypeFields, type_fields
from tubeshelf.services.type_syntax import format_pins
from tubeshelf.services.types_edit import save_type
from tubeshelf.ui.pages.types_sections import SectionsEditor
from tubeshelf.ui.parts.fieldsheet import FieldSheet
from tubeshelf.ui.parts.flow import FlowLayout
from tubeshelf.ui.parts.form import Tick
from tubeshelf.ui.parts.named import Pick, TextLines
from tubeshelf.ui.parts.text import label

_OVER = (
    "Grey is what came with the program and holds while a field is empty; what you type lies over it. "
    "Right takes the grey text to change it, a dash says that nothing is known."
)
_NEW = "Only designation, function and base are needed. Blank beats a guess: an empty field is not known."
_TICKS = {
    "top_cap": "top cap",
    "mercury": "mercury",
    "radioactive": "trace radioactivity",
    "xray": "X-rays",
    "beryllium": "beryllium oxide",
}


class CautionTicks(QWidget):
    """What to mind with a type, to be ticked; codes that we have no words for stay as they are."""

    def __init__(self) -> None:
        super().__init__()
        self.ticks = {code: Tick(word.capitalize()) for code, word in _TICKS.items()}
        self._others: list[str] = []
        flow = FlowLayout(self)
        for tick in self.ticks.values():
            flow.addWidget(tick)
        self.setFocusProxy(next(iter(self.ticks.values())))

    def say(self, text: str, usual: str = "") -> None:
        """Tick these codes."""
        codes = [code.strip() for code in text.split(";") if code.strip()]
        self._others = [code for code in codes if code not in self.ticks]
        self._order = codes
        for code, tick in self.ticks.items():
            tick.setChecked(code in codes)

    def said(self) -> str:
        """The codes ticked, in the order in which they were told."""
        ticked = [code for code, tick in self.ticks.items() if tick.isChecked()]
        kept = [code for code in self._order if code in ticked or code in self._others]
        return "; ".join(dict.fromkeys((*kept, *ticked)))


class TypeForm(FieldSheet):
    """Fills in a type. ``saved`` carries the Changes, ``saved_id`` is then the id of the type."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("Type", "Save")
        self._shop = shop
        self._key: str | None = None
        self._shipped: dict[str, str] = {}
        self.saved_id: int | None = None
        self.how = label("", "small", wrap=True)
        self.body.addWidget(self.how)
        self._identity()
        self.sections = SectionsEditor()
        self.add_form("Sections with their bogey values and the conditions they hold at").add(
            "sections", "", self.sections
        )
        self.sections.setAccessibleName("Sections")
        self._ratings()
        self._rest()

    def begin_new(self) -> None:
        """An empty form for a type of the shop's own."""
        self._open("New type", _NEW, None, {}, {})
        self.designation.setFocus()

    def edit(self, type_id: int) -> None:
        """The shop's own fields of a type over the shipped ones."""
        fields: TypeFields = type_fields(self._shop, type_id=type_id)
        own = not fields.shipped
        title = f"Edit {fields.now['designation']}"
        self._open(title, _NEW if own else _OVER, fields.key, dict(fields.now), dict(fields.shipped))
        self.function.setFocus()

    def save(self) -> None:
        """Keep it."""
        if (changes := self.keep(self._write)) is not None:
            self.saved.emit(changes)

    def _write(self) -> Changes:
        self.saved_id, changes = save_type(self._shop, key=self._key, fields=self.texts())
        return changes

    def _open(
        self, title: str, how: str, key: str | None, texts: dict[str, str], usual: dict[str, str]
    ) -> None:
        self.set_title(title)
        self.how.setText(how)
        self._key, self._shipped = key, usual
        blocked = [QSignalBlocker(self.basing), QSignalBlocker(self.base)]
        self.fill(texts, {**usual, "sections": usual.get("sections", "")})
        del blocked
        self.designation.setReadOnly(key is not None)
        self.designation.setText(texts.get("designation", ""))

    def _identity(self) -> None:
        form = self.add_form("What it is")
        self.designation = form.line("designation", "&Designation", "such as 12AX7")
        self.function = form.line("function", "&Function", "such as dual triode")
        form.line("equivalents", "&Other names", "of the same tube, with semicolons: ECC83; CV492")
        self.base = form.line("base", "B&ase", "such as noval")
        self.basing = form.line("basing", "Basin&g", "its code, such as 9A")
        self.pins = form.add(
            "pins", "&Pins", TextLines(3, "1:2.plate 2:2.grid1 3:2.cathode 4:heater 5:heater cap:1.plate")
        )
        self.basing.textChanged.connect(self._follow_basing)

        form.add("heating", "Heat&ing", Pick([str(way) for way in Heating]))
        form.line("heaters", "&Heaters", "volts/amperes pins: 6.3/0.3 4+5-9 | 12.6/0.15 4-5")

    def _ratings(self) -> None:
        left, right = self.add_forms(("Ratings", "Of rectifiers and regulators"))
        for name, words in (
            ("plate_v_max", "Plate, V"),
            ("screen_v_max", "Screen, V"),
            ("cathode_ma_max", "Cathode, mA"),
            ("heater_cathode_v_max", "Heater-cathode, V"),
            ("rating_system", "System"),
        ):
            left.line(name, words)
        for name, words in (
            ("piv_v", "Peak inverse, V"),
            ("dc_ma", "Direct current, mA"),
            ("drop_v", "Drop, V"),
            ("drop_ma", "at mA"),
            ("operating_v", "Operating, V"),
        ):
            right.line(name, words)

    def _rest(self) -> None:
        form = self.add_form("More")
        form.add("cautions", "Mind", CautionTicks())
        form.add("cutoff", "&Cut-off", Pick(("sharp", "semi", "remote"), "not said"))
        form.add("envelope", "En&velope", Pick(("glass", "metal"), "not said"))
        form.line("family", "Famil&y", "the type it is a version of")
        form.line("source", "So&urce", "where the figures come from")
        form.add("confidence", "Confidence", Pick(("high", "medium", "low"), "not said"))
        form.line("note", "&Note")
        self.body.addStretch(1)

    def _follow_basing(self, code: str) -> None:
        """A basing that the table has brings its base and its pins, until others are typed."""
        if self._shipped:
            return
        known = basing_called(self._shop, code)
        self.base.usually("" if known is None else known.base)
        self.pins.usually("" if known is None else format_pins(known.pins))


def basing_called(shop: Shop, code: str) -> Basing | None:
    """The basing of a code, as a type in the table has it."""
    wanted = code.strip().casefold()
    basings: Sequence[Basing] = [t.basing for t in shop.book.catalog.types() if t.basing.pins]
    return next((b for b in basings if wanted and b.code.casefold() == wanted), None)
