"""The form of a tester: what it reads, on which scale, how well it repeats, what is dialled in."""

from PySide6.QtWidgets import QWidget

from tubeshelf.services.changes import Changes
from tubeshelf.services.shop import Shop
from tubeshelf.services.tester_form import METHODS, tester_fields
from tubeshelf.services.testers import save_tester
from tubeshelf.services.views.types import TesterDetail
from tubeshelf.ui.parts.fieldsheet import FieldSheet
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.named import Pick
from tubeshelf.ui.parts.text import label

NONE, OWN, SHARE = "none", "own", "share"
_RULES = (
    ("None: without a limit no verdict", NONE),
    ("Figures of its own scale", OWN),
    ("Shares of the bogey", SHARE),
)
_STATED = ("transconductance", "plate current")
_WORDS = "merit words"
_EXPLAINED = {
    NONE: "A line without a limit of its own is read and kept, and stays unjudged.",
    OWN: "Used for a line without a limit of its own, and told as the default rule wherever it judged.",
    SHARE: (
        "A share of the type’s bogey value, such as 66 % of 1,600 µmho. Used for a line without a limit of "
        "its own, and only where the tester reads that quantity in that unit; else the line stays unjudged."
    ),
}
_NO_SHARE = (
    "This method reads no quantity for which a bogey value is stated: shares would judge nothing. Give "
    "figures of its own scale instead."
)


class TesterForm(FieldSheet):
    """Fills in a tester. ``saved`` carries the Changes, ``saved_id`` is then the id of the tester."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("Tester", "Save")
        self._shop = shop
        self._tester: TesterDetail | None = None
        self.saved_id: int | None = None
        self.explained = label("", "small", wrap=True)
        scale, limits = self.add_forms(("Its scale", "What it passes"))
        self.name = scale.line("name", "&Name", "what the bench calls it")
        self.method = scale.add("method", "Meth&od", Pick(METHODS))
        self.words = scale.line("words", "&Words", "worst first: bad; doubtful; good")
        self.unit = scale.line("unit", "&Unit", "as on its scale: µmho, mA, %")
        self.full_scale = scale.line("full_scale", "&Full scale", "its highest figure")
        self.relative = scale.line("relative_percent", "&Repeats to, %", "of the reading; empty: not known")
        self.absolute = scale.line("absolute", "&and, on its scale")
        scale.line("field_names", "Fields to d&ial in", "in your own words: heater; range; bias")
        scale.line("checked_on", "Last chec&k", "2 Dec 2026 or 2026-12-02")
        scale.line("note", "Note")
        self.rule = Choice(_RULES)
        limits.row("&Default rule", self.rule)
        self.own = (
            limits.line("good_from", "&Good from"),
            limits.line("reject_below", "Reje&ct below"),
        )
        self.shares = (
            limits.line("good_percent", "&Good from, %", "such as 66"),
            limits.line("reject_percent", "Reje&ct below, %", "such as 50"),
        )
        limits.row("", self.explained)
        limits.line("leakage_least", "&Leakage from, MΩ", "5; empty: period practice")
        limits.line("gas_most", "Gas u&p to", "0.5; empty: period practice")
        limits.line("gas_unit", "Gas in", "µA, or divisions of its own")
        self._scale, self._limits = scale, limits
        self.body.addStretch(1)
        self.method.currentIndexChanged.connect(lambda: self._show_rows())
        self.rule.currentIndexChanged.connect(lambda: self._show_rows())

    def begin_new(self) -> None:
        """An empty form."""
        self._tester = None
        self.set_title("New tester")
        self.act.setText("Save")
        self.fill({"method": _STATED[0]})
        self.rule.choose(NONE)
        self._show_rows()
        self.name.setFocus()

    def edit(self, tester: TesterDetail) -> None:
        """A tester as it is."""
        self._tester = tester
        self.set_title(f"Edit {tester.name}")
        self.fill(tester_fields(tester))
        default = tester.default
        shares = default.good_share is not None or default.reject_share is not None
        own = default.good_from is not None or default.reject_below is not None
        self.rule.choose(SHARE if shares else OWN if own else NONE)
        self._show_rows()
        self.name.setFocus()

    def texts(self) -> dict[str, str]:
        """What holds now; a field that does not belong to the method or the rule holds nothing."""
        fields = {**self._scale.fields, **self._limits.fields}
        hidden = {name for name, field in fields.items() if field.isHidden()}
        return {name: "" if name in hidden else text for name, text in super().texts().items()}

    def complain(self, wrong: dict[QWidget, str], *forms: Form) -> bool:
        """What is wrong with a field that is not on show is told at the method, which hides it."""
        shown = {(self.method if field.isHidden() else field): said for field, said in wrong.items()}
        return super().complain(shown, *forms)

    def save(self) -> None:
        """Keep it."""
        if (changes := self.keep(self._write)) is not None:
            self.saved.emit(changes)

    def _write(self) -> Changes:
        tester = self._tester
        self.saved_id, changes = save_tester(
            self._shop,
            fields=self.texts(),
            tester_id=None if tester is None else tester.id,
            expected_version=None if tester is None else tester.version,
        )
        return changes

    def _show_rows(self) -> None:
        method, rule = self.method.said(), self.rule.currentData()
        merit = method == _WORDS
        self._scale.show_row(self.words, merit)
        for field in (self.unit, self.full_scale, self.relative):
            self._scale.show_row(field, not merit)
        self.absolute.setPlaceholderText("in words: 0.3; empty: not known" if merit else "empty: none")
        for fields, kind in ((self.own, OWN), (self.shares, SHARE)):
            for field in fields:
                self._limits.show_row(field, rule == kind)
        hints = ("one of its words", "one of its words") if merit else ("such as 60", "such as 40")
        for field, hint in zip(self.own, hints, strict=True):
            field.setPlaceholderText(hint)
        stated = rule != SHARE or method in _STATED
        self.explained.setText(_EXPLAINED[rule] if stated else _NO_SHARE)
