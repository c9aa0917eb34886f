"""Values measured in the set of a job, each kept as an act, and what follows from them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Disposition
from tubeshelf.domain.set_fields import is_output_socket, parse_set_value, value_text
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.dissipated import Standing, advice_of, differences_of, output_of
from tubeshelf.services.set_fields import field_of
from tubeshelf.services.socket_facts import intended_id, refuse_closed, written_of
from tubeshelf.services.views.measured import MeasuredValue, SetView
from tubeshelf.store.queries import bench, set_values
from tubeshelf.store.tables import SetValue

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def set_value(
    shop: Shop, *, job_id: int, field_id: int, text: str, socket_id: int | None = None, origin: str = ""
) -> tuple[None, Changes | None]:
    """Keep what was measured, in place of what stood there; an empty text strikes it, the same is no act.

    Raises UserError for text that is no number in the unit of the field, and in a job that is closed.
    """
    with shop.record.reading() as connection:
        seen = _measured(shop, connection, job_id)
    here = next((v for v in seen.values if (v.field.id, v.socket_id) == (field_id, socket_id)), None)
    if here is None:
        raise UserError("That value is not asked for any more; reload the page.")
    value = parse_set_value(text, here.field) if text.strip() else None
    if value == here.value:
        return None, None
    with shop.record.act("set value") as journal:
        job = _job(journal.connection, job_id)
        refuse_closed(job)
        for row in set_values.values_of(journal.connection, job_id):
            if (row.set_field_id, row.job_socket_id) == (field_id, socket_id):
                journal.end(SetValue, row.id)
        if value is not None:
            journal.insert(
                SetValue, job_id=job_id, set_field_id=field_id, job_socket_id=socket_id, value=value
            )
        said = "struck" if value is None else value_text(value, here.field.unit)
        journal.said = f"{here.name}: {said}, job {job.number}"
        return None, Changes(journal.act_id, journal.said, frozenset({(Kind.JOB, job_id)}), origin)


def measured_in(shop: Shop, *, job_id: int) -> SetView:
    """What was measured in the set of a job, what is still asked for, and what follows from it."""
    with shop.record.reading() as connection:
        return _measured(shop, connection, job_id)


def _measured(shop: Shop, connection: Connection, job_id: int) -> SetView:
    job = _job(connection, job_id)
    model = "" if job.model_id is None else f"{job.maker} {job.model}".strip()
    if job.model_id is None:
        return SetView(job_id, job.number, None, model, (), (), ())
    fields = tuple(map(field_of, set_values.fields_of(connection, job.model_id)))
    kept = {(v.set_field_id, v.job_socket_id): v.value for v in set_values.values_of(connection, job_id)}
    if not fields and not kept:
        return SetView(job_id, job.number, job.model_id, model, (), (), ())
    rows = bench.job_sockets(connection, [job_id])
    outputs = [row for row in rows if is_output_socket(row.role, shop.book.type(intended_id(row)))]
    asked = [
        MeasuredValue(field, socket_id, position, kept.pop((field.id, socket_id), None))
        for field in fields
        for socket_id, position in (
            ((r.id, r.position) for r in outputs) if field.per_socket else ((None, ""),)
        )
    ]
    values = (*asked, *_not_asked(connection, kept, {row.id: row.position for row in rows}))
    standing = _standing(shop, connection, outputs)
    shown = tuple(output_of(one, values, alone=len(standing) == 1) for one in standing)
    return SetView(
        job_id=job_id,
        number=job.number,
        model_id=job.model_id,
        model=model,
        values=values,
        outputs=shown,
        differences=differences_of(standing, values),
        advice=advice_of(shown, values),
    )


def _not_asked(
    connection: Connection, kept: dict[tuple[int, int | None], float], positions: dict[int, str]
) -> list[MeasuredValue]:
    """What was measured for fields, or at sockets, that are no longer asked for."""
    fields = {row.id: field_of(row) for row in set_values.fields_by_id(connection, {f for f, _ in kept})}
    return [
        MeasuredValue(fields[field_id], socket_id, positions.get(socket_id or 0, ""), value, asked=False)
        for (field_id, socket_id), value in kept.items()
    ]


def _standing(shop: Shop, connection: Connection, outputs: Sequence[Row[Any]]) -> list[Standing]:
    """The output sockets with the tube that stands there now: the one put in, the one found, the intended."""
    fitted = {row.fitted_item_id for row in outputs} - {None}
    types = {item.id: item.type_id for item in bench.items(connection, fitted)}
    standing = []
    for row in outputs:
        if row.disposition == Disposition.EMPTY_ON_PURPOSE:
            continue
        known = (types.get(row.fitted_item_id), None if row.fitted_item_id else row.found_type_id)
        type_id = next((one for one in known if one is not None), intended_id(row))
        tube = shop.book.type(type_id)
        if tube is not None:
            standing.append(Standing(row.id, row.position, row.match_group, tube, written_of(row).bias))
    return standing


def _job(connection: Connection, job_id: int) -> Row[Any]:
    job = bench.job_row(connection, job_id=job_id)
    if job is None:
        raise UserError("That job is gone; reload the page.")
    return job
