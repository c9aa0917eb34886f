"""Short ways to do on the shelf what a technician does, and to look at what came of it."""

from sqlalchemy import select

from tubeshelf.domain.judging import Stage
from tubeshelf.domain.places import Place
from tubeshelf.services.shelf_moves import receive
from tubeshelf.services.shelf_reading import read_spare
from tubeshelf.services.shelf_search import search
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.shelf import ItemView
from tubeshelf.store.tables import Item, Movement


def tube(shop: Shop, type_name: str = "12AX7", bin: str = "C2", **facts: object) -> int:
    """One tagged tube on the shelf."""
    (item_id,), _ = receive(shop, type_name=type_name, bin=bin, **facts)  # type: ignore[arg-type]
    return item_id


def lot(shop: Shop, type_name: str = "12AX7", quantity: int = 10, bin: str = "C5", **facts: object) -> int:
    """A counted lot on the shelf."""
    (item_id,), _ = receive(
        shop,
        type_name=type_name,
        bin=bin,
        quantity=quantity,
        lot=True,
        **facts,  # type: ignore[arg-type]
    )
    return item_id


def read(shop: Shop, tester_id: int, item_id: int, *texts: str, stage: Stage = Stage.INCOMING) -> None:
    """Read a spare section by section."""
    for section, text in enumerate(texts, start=1):
        taken, _ = read_spare(
            shop,
            item_id=item_id,
            line_id=line_of(shop, tester_id, item_id, str(section)),
            section=str(section),
            tester_id=tester_id,
            text=text,
            stage=stage,
            confirmed=True,
        )
        assert taken.reading_id is not None


def line_of(shop: Shop, tester_id: int, item_id: int, section: str) -> int | None:
    """The setting line of a section on a tester, if it is written down."""
    from tubeshelf.services.setting_lines import setting_lines

    type_id = item(shop, item_id).type_id
    lines = setting_lines(shop, tester_id=tester_id, type_id=type_id)
    return next((line.id for line in lines if line.section == section), None)


def item(shop: Shop, item_id: int) -> ItemView:
    """A tube or lot as the shelf shows it."""
    from tubeshelf.services.shelf_detail import item_detail

    return item_detail(shop, item_id=item_id).item


def found(shop: Shop, words: str = "") -> list[int]:
    """The ids that a search finds, sorted."""
    return sorted(row.id for row in search(shop, find=words).rows)


def moved_to_shelf(shop: Shop) -> dict[int, int]:
    """How many of each item lie on the shelf, added up from the movements alone."""
    total: dict[int, int] = {}
    with shop.record.reading() as connection:
        for row in connection.execute(select(Movement.__table__).where(Movement.ended_by.is_(None))):
            for place, sign in ((row.to_place, 1), (row.from_place, -1)):
                if place == Place.SHELF:
                    total[row.item_id] = total.get(row.item_id, 0) + sign * row.quantity
    return {item_id: n for item_id, n in total.items() if n}


def cached_on_shelf(shop: Shop) -> dict[int, int]:
    """The same as the items say it themselves."""
    with shop.record.reading() as connection:
        rows = connection.execute(
            select(Item.id, Item.quantity).where(Item.place == Place.SHELF, Item.ended_by.is_(None))
        )
        return {row.id: row.quantity for row in rows if row.quantity}
