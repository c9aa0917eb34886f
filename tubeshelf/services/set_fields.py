"""What is measured in sets of a model: named fields of the model, asked for in each of its jobs."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.set_fields import Quantity, SetField, check_fields
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.store.queries import intake, set_values
from tubeshelf.store.tables import SetField as SetFieldRow

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


def set_fields(shop: Shop, *, model_id: int) -> tuple[SetField, ...]:
    """What is measured in sets of a model, in order."""
    with shop.record.reading() as connection:
        return tuple(map(field_of, set_values.fields_of(connection, model_id)))


def save_set_fields(
    shop: Shop,
    *,
    model_id: int,
    fields: Sequence[SetField],
    dropped: Collection[int] = (),
    origin: str = "",
) -> tuple[tuple[SetField, ...], Changes]:
    """Say what is measured in sets of a model, in this order; ``dropped`` are the ids of fields to end.

    What was measured stays as it was: a field with values that gets another unit or meaning is ended, and
    another begins. Raises UserError for what ``check_fields`` refuses.
    """
    check_fields(fields)
    with shop.record.act("set fields") as journal:
        connection = journal.connection
        model = intake.model(connection, model_id)
        if model is None:
            raise UserError("That model is gone; reload the page.")
        known = {row.id: field_of(row) for row in set_values.fields_of(connection, model_id)}
        measured = set_values.measured_fields(connection, known)
        for field_id in dropped:
            journal.end(SetFieldRow, field_id)
        for seq, field in enumerate(fields, start=1):
            _write_field(journal, model_id, seq, field, known.get(field.id or 0), measured)
        journal.said = f"What is measured in the {model.maker} {model.name} saved".replace("  ", " ")
        things = frozenset({(Kind.MODEL, model_id), (Kind.JOB, 0)})
        saved = tuple(map(field_of, set_values.fields_of(connection, model_id)))
        return saved, Changes(journal.act_id, journal.said, things, origin)


def _write_field(
    journal: Journal,
    model_id: int,
    seq: int,
    field: SetField,
    old: SetField | None,
    measured: Collection[int],
) -> None:
    values = {
        "seq": seq,
        "name": field.name.strip(),
        "unit": field.unit.strip(),
        "quantity": str(field.quantity),
        "per_socket": field.per_socket,
    }
    if field.id is not None and (old is None or field.id not in measured or _means_the_same(old, field)):
        journal.update(SetFieldRow, field.id, expected_version=field.version, **values)
        return
    if field.id is not None:
        journal.update(SetFieldRow, field.id, expected_version=field.version)
        journal.end(SetFieldRow, field.id)
    journal.insert(SetFieldRow, model_id=model_id, **values)


def _means_the_same(old: SetField, new: SetField) -> bool:
    """Whether values measured for one are values of the other; another name alone changes nothing."""
    return (old.unit, old.quantity, old.per_socket) == (new.unit.strip(), new.quantity, new.per_socket)


def field_of(row: Row[Any]) -> SetField:
    """A field of the record as a value."""
    return SetField(row.name, row.unit, Quantity(row.quantity), row.per_socket, row.id, row.version)
