"""The demo's hours with the set itself: its chassis map, values measured in it, why it was put aside."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from tubeshelf.domain.chassis import Seat
from tubeshelf.domain.set_fields import PROPOSED
from tubeshelf.services.aside import put_aside, where_tubes_are
from tubeshelf.services.chassis import place_sockets
from tubeshelf.services.jobs import open_job
from tubeshelf.services.set_fields import save_set_fields, set_fields
from tubeshelf.services.set_values import set_value

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.tablefile import Row


def write_map(shop: Shop, *, model_id: int, sockets: Sequence[Row]) -> None:
    """Save where the sockets of a model are, where its table says so."""
    placed = [(row.need("position"), row.number("x"), row.number("y")) for row in sockets]
    places = {position: Seat(x, y) for position, x, y in placed if x is not None and y is not None}
    if places:
        place_sockets(shop, model_id=model_id, places=places)


def measure(shop: Shop, job_id: int, sockets: Mapping[str, int], values: Sequence[Row]) -> None:
    """Write down what was measured in a set; the first time its model gets the fields that are proposed."""
    model_id = open_job(shop, job_id=job_id).model_id
    if not values or model_id is None:
        return
    if not set_fields(shop, model_id=model_id):
        save_set_fields(shop, model_id=model_id, fields=PROPOSED)
    fields = {field.name: field.id for field in set_fields(shop, model_id=model_id)}
    for row in values:
        field_id = fields[row.need("field")]
        if field_id is None:
            raise row.error("a saved field has an id")
        set_value(
            shop,
            job_id=job_id,
            field_id=field_id,
            socket_id=sockets[row.text("position")] if row.text("position") else None,
            text=row.need("value"),
        )


def leave_open(shop: Shop, job_id: int, why: str) -> None:
    """Put a set aside with the sockets empty that are."""
    put_aside(shop, job_id=job_id, positions=where_tubes_are(shop, job_id=job_id).empty, why=why)
