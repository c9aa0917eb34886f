"""The right half of the Types page: the data sheet of the type in hand, the forms that change it."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QScrollArea, QStackedWidget, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.services.may_go import may_go_for
from tubeshelf.services.shelf_search import type_count
from tubeshelf.services.shop import Shop
from tubeshelf.services.testers import list_testers
from tubeshelf.services.type_fields import type_fields
from tubeshelf.services.types import type_detail
from tubeshelf.services.views.types import Distribution, SettingLineView, TypeDetail
from tubeshelf.ui.pages.types_detail import TypeSheet
from tubeshelf.ui.pages.types_edit import TypeForm
from tubeshelf.ui.pages.types_forms import CopyForm, SubstituteForm
from tubeshelf.ui.pages.types_import import ImportSheet
from tubeshelf.ui.pages.types_limit import LimitForm
from tubeshelf.ui.pages.types_limits import spread_name
from tubeshelf.ui.parts.actform import ActForm
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.maygo import MayGoPanel
from tubeshelf.ui.parts.parform import ParForm
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.runner import Runner

_NOTHING = "The type in hand shows here: its base, heater, bogey values, ratings, and what may serve for it."


class TypePane(QStackedWidget):
    """``wrote`` carries the Changes of a form, ``made`` the id of a type that came to be,
    ``left`` says that a form is done with."""

    wrote = Signal(object)
    made = Signal(int)
    left = Signal()

    def __init__(self, shop: Shop, runner: Runner) -> None:
        super().__init__()
        self._shop = shop
        self.detail: TypeDetail | None = None
        self.form: ActForm | MayGoPanel | None = None
        self.sheet, self.entry, self.imports = TypeSheet(), TypeForm(shop), ImportSheet(shop, runner)
        self.copy, self.substitute = CopyForm(shop), SubstituteForm(shop)
        self.limit, self.par = LimitForm(shop), ParForm(shop)
        self.may_go = MayGoPanel()
        self._nothing = Sheet()
        self._nothing.body.addWidget(Empty(_NOTHING), 1)
        for view in (self._nothing, self.sheet, self.entry, self.imports):
            self.addWidget(view)
        for form in (self.copy, self.substitute, self.limit, self.par):
            self.sheet.forms.addWidget(form)
            form.left.connect(self.leave)
            form.wrote.connect(self.wrote)
        self.sheet.forms.addWidget(self.may_go)
        self.may_go.left.connect(self.leave)
        self.may_go.type_wanted.connect(self.sheet.type_wanted)
        self.copy.wrote.connect(lambda: self.made.emit(self.copy.copied))
        self.sheet.line_wanted.connect(self.change_line)
        for entry in (self.entry, self.imports):
            entry.left.connect(self.leave)
        self.entry.saved.connect(lambda changes: self._saved(changes, self.entry.saved_id))
        self.imports.saved.connect(lambda changes: self._saved(changes, self.imports.saved_id))

    @property
    def entering(self) -> bool:
        """Whether a form is being filled in."""
        return self.form is not None or self.currentWidget() in (self.entry, self.imports)

    def show_type(self, type_id: int | None) -> None:
        """Show another type, or the same as it is now: then a form that is being filled in stays."""
        same = self.detail is not None and self.detail.type_id == type_id
        self.detail = None if type_id is None else type_detail(self._shop, type_id=type_id)
        if self.detail is None:
            self.setCurrentWidget(self._nothing)
            return
        testers = {tester.name: tester for tester in list_testers(self._shop)}
        fields = type_fields(self._shop, type_id=self.detail.type_id)
        self.sheet.show_type(self.detail, fields, testers)
        if not same:
            self._put_away()
            QTimer.singleShot(0, self._to_top)
        if not (same and self.currentWidget() in (self.entry, self.imports)):
            self.setCurrentWidget(self.sheet)

    def begin(self, name: str) -> None:
        """Open a form: a new type, or something about the type in hand."""
        self._put_away()
        if name == "new":
            self.setCurrentWidget(self.entry)
            self.entry.begin_new()
        elif name == "import":
            self.setCurrentWidget(self.imports)
            self.imports.open()
        elif self.detail is not None and name == "edit":
            self.setCurrentWidget(self.entry)
            self.entry.edit(self.detail.type_id)
        elif self.detail is not None:
            self._begin_short(name, self.detail.type_id)

    def change_line(self, line: SettingLineView) -> None:
        """Open the form of a setting line."""
        self._put_away()
        self._show_form(self.limit)
        self.limit.open_for(line.type_id, line)

    def chosen_readings(self) -> tuple[Distribution, tuple[str, ...]]:
        """The readings on show and the words of their scale; UserError if none was read."""
        spread = self.sheet.readings.chosen if self.detail is not None else None
        if spread is None:
            raise UserError("No tube of this type has been read yet: there is nothing to draw.")
        return spread, self.sheet.readings.words_of(spread)

    def leave(self) -> None:
        """Put the form away."""
        self._put_away()
        self.setCurrentWidget(self._nothing if self.detail is None else self.sheet)
        self.left.emit()

    def _begin_short(self, name: str, type_id: int) -> None:
        forms: dict[str, ActForm | MayGoPanel] = {
            "copy": self.copy,
            "substitute": self.substitute,
            "limit": self.limit,
            "par": self.par,
            "may_go": self.may_go,
        }
        self._show_form(forms[name])
        if name == "may_go":
            self.may_go.show_types(may_go_for(self._shop, type_id=type_id))
        elif name == "par":
            self.par.open_for(type_count(self._shop, type_id=type_id))
        elif name == "limit":
            self.limit.open_for(type_id)
        elif name == "copy":
            self.copy.open_for(type_id)
        else:
            self.substitute.open_for(type_id)

    def _show_form(self, form: ActForm | MayGoPanel) -> None:
        self.form = form
        self.setCurrentWidget(self.sheet)
        QTimer.singleShot(0, self._to_top)

    def _put_away(self) -> None:
        if self.form is not None:
            self.form.hide()
        self.form = None

    def _saved(self, changes: object, type_id: int | None) -> None:
        self.leave()
        self.wrote.emit(changes)
        self.made.emit(type_id)

    def _to_top(self) -> None:
        if (area := self.sheet.findChild(QScrollArea)) is not None:
            area.verticalScrollBar().setValue(0)


def show_distribution(window: QWidget, name: str, spread: Distribution, words: tuple[str, ...]) -> QWidget:
    """The readings of a type against their limit, in a window of its own."""
    from tubeshelf.charts.figures import distribution_figure
    from tubeshelf.ui.parts.picture import PictureWindow

    shown = PictureWindow(
        f"Readings of {name}",
        f"readings-{name}",
        lambda palette: distribution_figure(
            spread.values,
            limit=spread.limit,
            unit=spread.unit,
            title=spread_name(Distribution(spread.tester, spread.line, "", (), None)),
            palette=palette,
            words=words,
        ),
        window,
    )
    shown.show()
    return shown
