"""What the shelf asks of the record: spares by words, promises, counts, the last judgements of spares."""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Executable, Row, Select, and_, false, func, or_, select

from tubeshelf.domain.places import Place
from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.tables import (
    Act,
    Customer,
    Item,
    Job,
    JobSocket,
    Judgement,
    Observation,
    Par,
    Promise,
    SettingLine,
)

Rows = Sequence[Row[Any]]

MANY = 10_000
"""Items that are asked for by id at once at most: statements take some 32,000 values."""


@dataclass(frozen=True, slots=True)
class Word:
    """A folded word of a search: in an item's own key, or the name of one of these types, or its tag."""

    key: str
    type_ids: frozenset[int] = frozenset()
    tag: int | None = None


def on_shelf() -> ColumnElement[bool]:
    """The shop's own spares that lie on the shelf: what counts as on hand."""
    return and_(
        Item.place == Place.SHELF, Item.customer_id.is_(None), Item.quantity > 0, Item.ended_by.is_(None)
    )


def _shown() -> ColumnElement[bool]:
    """What the shelf page shows: the spares, and the reference tubes that are kept apart from them."""
    kept = and_(Item.place == Place.REFERENCE, Item.customer_id.is_(None), Item.ended_by.is_(None))
    return or_(on_shelf(), kept)


def _items() -> Select[Any]:
    return select(*Item.__table__.columns, Customer.name.label("owner")).join(
        Customer, Customer.id == Item.customer_id, isouter=True
    )


def find_items(connection: Connection, words: Collection[Word]) -> Rows:
    """The spares that every word finds; a whole tag finds its tube wherever it is."""
    tags = [word.tag for word in words if word.tag is not None]
    anywhere = and_(Item.tag.in_(tags), Item.ended_by.is_(None)) if tags else false()
    query = _items().where(or_(_shown(), anywhere))
    for word in words:
        fits = [Item.search_key.contains(word.key, autoescape=True)]
        if word.type_ids:
            fits.append(Item.type_id.in_(word.type_ids))
        if word.tag is not None:  # a scanned one has a letter in front, which no key has
            fits.append(Item.tag == word.tag)
        query = query.where(or_(*fits))
    return all_rows(connection, query)


def item(connection: Connection, item_id: int) -> Row[Any] | None:
    """One tube or lot with its owner's name, wherever it is."""
    return one_row(connection, _items().where(Item.id == item_id, Item.ended_by.is_(None)))


def item_of_tag(connection: Connection, tag: int) -> int | None:
    """The tube with this tag."""
    return connection.scalar(select(Item.id).where(Item.tag == tag, Item.ended_by.is_(None)))


def spares_of_types(connection: Connection, type_ids: Collection[int]) -> Rows:
    """The spares of these types that lie on the shelf."""
    return all_rows(connection, _items().where(on_shelf(), Item.type_id.in_(type_ids)).order_by(Item.id))


def spares_by_id(connection: Connection, item_ids: Collection[int]) -> Rows:
    """Those of these items that lie on the shelf as spares."""
    return _by_items(connection, item_ids, lambda ids: _items().where(on_shelf(), Item.id.in_(ids)))


def _by_items(
    connection: Connection, item_ids: Collection[int], query: Callable[[list[int]], Executable]
) -> Rows:
    """The rows of a query for these items, asked for in parts that both databases take, by rising item id."""
    ids = sorted(item_ids)
    rows: list[Row[Any]] = []
    for start in range(0, len(ids), MANY):
        rows += all_rows(connection, query(ids[start : start + MANY]))
    return rows


def promises(connection: Connection, item_ids: Collection[int] | None = None) -> Rows:
    """The live promises (of these items), with the number of the job and the position of the socket."""
    query = (
        select(
            Promise.id,
            Promise.item_id,
            Promise.quantity,
            Promise.job_id,
            Promise.job_socket_id,
            Job.number,
            JobSocket.position,
        )
        .join(Job, Job.id == Promise.job_id)
        .join(JobSocket, JobSocket.id == Promise.job_socket_id, isouter=True)
        .where(Promise.ended_by.is_(None))
        .order_by(Promise.id)
    )
    return all_rows(connection, query if item_ids is None else query.where(Promise.item_id.in_(item_ids)))


def _held(table: type[Judgement] | type[Observation], as_of: int | None) -> ColumnElement[bool]:
    """Whether a row holds now, or held when the act ``as_of`` had just been done."""
    if as_of is None:
        return table.ended_by.is_(None)
    return and_(table.begun_by <= as_of, or_(table.ended_by.is_(None), table.ended_by > as_of))


def last_act_by(connection: Connection, end: datetime) -> int:
    """The last act before an instant; 0 if there was none."""
    return connection.scalar(select(func.max(Act.id)).where(Act.at < end)) or 0


def judged_lines(connection: Connection, item_ids: Collection[int], as_of: int | None = None) -> Rows:
    """The judgements of items that hold (or held then), an item's together, by its setting lines."""
    query = (
        select(
            Judgement.id,
            Judgement.item_id,
            Judgement.stage,
            Judgement.place,
            Judgement.mean,
            Judgement.n,
            Judgement.u,
            Judgement.zone,
            Judgement.sure,
            Judgement.probability,
            Judgement.above,
            Judgement.bogey,
            Judgement.good_from,
            Judgement.reject_below,
            Judgement.above_limit,
            Judgement.unit,
            Judgement.source,
            Judgement.dated,
            Judgement.derived,
            SettingLine.label,
            SettingLine.section,
            SettingLine.tester_id,
            Act.at,
        )
        .join(SettingLine, SettingLine.id == Judgement.setting_line_id)
        .join(Act, Act.id == Judgement.begun_by)
        .where(_held(Judgement, as_of))
        .order_by(Judgement.item_id, SettingLine.position, SettingLine.id)
    )
    return _by_items(connection, item_ids, lambda ids: query.where(Judgement.item_id.in_(ids)))


def faults(connection: Connection, item_ids: Collection[int], as_of: int | None = None) -> Rows:
    """What technicians call (or called then) a fault of these items."""
    query = (
        select(Observation.item_id, Observation.mark, Observation.value, Observation.unit, Observation.pins)
        .where(_held(Observation, as_of), Observation.is_fault)
        .order_by(Observation.item_id, Observation.id)
    )
    return _by_items(connection, item_ids, lambda ids: query.where(Observation.item_id.in_(ids)))


def stamps(connection: Connection, item_ids: Collection[int]) -> tuple[Rows, Rows]:
    """The ids of the judgements and of the faults that hold for items: what their verdicts are made of."""
    judged = (
        select(Judgement.item_id, Judgement.id)
        .where(Judgement.ended_by.is_(None))
        .order_by(Judgement.item_id, Judgement.id)
    )
    faulty = (
        select(Observation.item_id, Observation.id)
        .where(Observation.ended_by.is_(None), Observation.is_fault)
        .order_by(Observation.item_id, Observation.id)
    )
    return (
        _by_items(connection, item_ids, lambda ids: judged.where(Judgement.item_id.in_(ids))),
        _by_items(connection, item_ids, lambda ids: faulty.where(Observation.item_id.in_(ids))),
    )


def on_hand(connection: Connection) -> dict[int, int]:
    """How many of each type lie on the shelf."""
    query = (
        select(Item.type_id, func.sum(Item.quantity).label("total")).where(on_shelf()).group_by(Item.type_id)
    )
    return _numbers(all_rows(connection, query))


def promised(connection: Connection) -> dict[int, int]:
    """How many of those on the shelf are promised to a job, by type."""
    query = (
        select(Item.type_id, func.sum(Promise.quantity).label("total"))
        .join(Promise, Promise.item_id == Item.id)
        .where(on_shelf(), Promise.ended_by.is_(None))
        .group_by(Item.type_id)
    )
    return _numbers(all_rows(connection, query))


def _numbers(rows: Rows) -> dict[int, int]:
    return {row.type_id: int(row.total) for row in rows if row.type_id is not None}


def pars(connection: Connection) -> dict[int, int]:
    """How many of a type the shop wants on hand, where it said so."""
    live = connection.execute(select(Par.type_id, Par.quantity).where(Par.ended_by.is_(None)))
    return {row.type_id: row.quantity for row in live}


def par_row(connection: Connection, type_id: int) -> int | None:
    """The id of the row that says how many of a type are wanted."""
    return connection.scalar(select(Par.id).where(Par.type_id == type_id, Par.ended_by.is_(None)))


def totals(connection: Connection) -> tuple[int, int]:
    """How many tubes lie on the shelf, and of how many types."""
    row = connection.execute(
        select(func.coalesce(func.sum(Item.quantity), 0), func.count(Item.type_id.distinct())).where(
            on_shelf()
        )
    ).one()
    return int(row[0]), int(row[1])
