"""The shop that every service works for: its record, its types, its settings, its day."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from sqlalchemy import delete, insert, select

from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.typebook import TypeBook, load_book, sync_shipped
from tubeshelf.store.tables import Setting

if TYPE_CHECKING:
    from tubeshelf.store.record import Record


@dataclass(frozen=True, slots=True)
class ShopSettings:
    """What the shop says of itself. ``high_line_v`` is the highest line it expects on a 117 V supply;
    ``labour`` the usual labour figure in minor units.

    ``estimate_days`` is how long an estimate holds, ``warranty_days`` for how long from the closing of a
    job the shop stands by what it fitted; ``None`` where it has no such term.
    """

    name: str = "The workshop"
    address: str = ""
    currency: str = ""
    high_line_v: float = 125.0
    labour: int = 0
    old_tubes: str = "Old tubes are kept for you and handed back on request."
    warranty: str = ""
    estimate_days: int | None = None
    warranty_days: int | None = None


class Shop:
    """One open record with what is read from it once: the types and the settings.

    ``forget_types`` and ``forget_settings`` drop what was read after somebody changed it.
    """

    def __init__(self, record: Record) -> None:
        self.record = record
        self._book: TypeBook | None = None
        self._settings: ShopSettings | None = None

    @property
    def book(self) -> TypeBook:
        """The types as this shop has them."""
        if self._book is None:
            with self.record.reading() as connection:
                self._book = load_book(connection)
        return self._book

    @property
    def settings(self) -> ShopSettings:
        """The shop's settings, defaults where nothing was said."""
        if self._settings is None:
            with self.record.reading() as connection:
                said = {row.key: row.value for row in connection.execute(select(Setting.key, Setting.value))}
            self._settings = _decode(said)
        return self._settings

    @property
    def now(self) -> datetime:
        """The instant, aware, by the record's clock."""
        return self.record.clock()

    @property
    def today(self) -> date:
        """The civil date at the bench."""
        return self.now.astimezone().date()

    def forget_types(self) -> None:
        """Read the types again at the next question."""
        self._book = None

    def forget_settings(self) -> None:
        """Read the settings again at the next question."""
        self._settings = None


def open_shop(record: Record) -> Shop:
    """The shop of a record, whose shipped types are brought up to date first."""
    if not record.read_only:
        sync_shipped(record)
    return Shop(record)


def save_settings(shop: Shop, *, settings: ShopSettings, origin: str = "") -> tuple[ShopSettings, Changes]:
    """Keep the shop's settings."""
    said = {key: "" if value is None else str(value) for key, value in asdict(settings).items()}
    with shop.record.act("settings", "Settings saved") as journal:
        journal.connection.execute(delete(Setting).where(Setting.key.in_(said)))
        journal.connection.execute(insert(Setting), [{"key": k, "value": v} for k, v in said.items()])
        act_id = journal.act_id
    shop.forget_settings()
    return shop.settings, Changes(act_id, "Settings saved", frozenset({(Kind.SETTING, 0)}), origin)


def _decode(said: dict[str, str]) -> ShopSettings:
    default = ShopSettings()
    return ShopSettings(
        name=said.get("name", default.name),
        address=said.get("address", default.address),
        currency=said.get("currency", default.currency),
        high_line_v=float(said.get("high_line_v", default.high_line_v)),
        labour=int(said.get("labour", default.labour)),
        old_tubes=said.get("old_tubes", default.old_tubes),
        warranty=said.get("warranty", default.warranty),
        estimate_days=_days(said.get("estimate_days", "")),
        warranty_days=_days(said.get("warranty_days", "")),
    )


def _days(said: str) -> int | None:
    return int(said) if said else None
