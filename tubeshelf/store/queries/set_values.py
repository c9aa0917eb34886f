"""What a model is measured for in the set, and what was measured in a job."""

from collections.abc import Collection, Sequence
from typing import Any

from sqlalchemy import Connection, Row, select

from tubeshelf.store.queries.fetch import all_rows
from tubeshelf.store.tables import SetField, SetValue

Rows = Sequence[Row[Any]]


def fields_of(connection: Connection, model_id: int) -> Rows:
    """The fields of a model, in their order."""
    query = select(SetField.__table__).where(SetField.model_id == model_id, SetField.ended_by.is_(None))
    return all_rows(connection, query.order_by(SetField.seq, SetField.id))


def fields_by_id(connection: Connection, ids: Collection[int]) -> Rows:
    """Fields by id, those too that the model has no more."""
    query = select(SetField.__table__).where(SetField.id.in_(ids))
    return all_rows(connection, query.order_by(SetField.seq, SetField.id))


def values_of(connection: Connection, job_id: int) -> Rows:
    """What was measured in a job, oldest first."""
    query = select(SetValue.__table__).where(SetValue.job_id == job_id, SetValue.ended_by.is_(None))
    return all_rows(connection, query.order_by(SetValue.id))


def measured_fields(connection: Connection, ids: Collection[int]) -> frozenset[int]:
    """Those of the fields that a value was ever measured for and still holds."""
    query = select(SetValue.set_field_id).where(SetValue.set_field_id.in_(ids), SetValue.ended_by.is_(None))
    return frozenset(connection.scalars(query.distinct()))
