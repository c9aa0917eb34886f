"""How the heaters of a model are fed, as it is written down now; ``intake_edit.set_circuits`` changes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.services.intake_edit import CIRCUIT_FIGURES, CircuitPlan
from tubeshelf.store.queries import intake
from tubeshelf.store.tables import ModelSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@dataclass(frozen=True, slots=True)
class ModelCircuits:
    """A model's line voltage, its positions in test order, and its heater circuits."""

    model_id: int
    name: str
    line_v: float | None
    positions: tuple[str, ...]
    circuits: tuple[CircuitPlan, ...]


def model_circuits(shop: Shop, *, model_id: int) -> ModelCircuits:
    """The heater circuits of a model and what each feeds; UserError if there is no such model."""
    with shop.record.reading() as connection:
        model = intake.model(connection, model_id)
        if model is None:
            raise UserError("That model is gone; reload the page.")
        sockets = intake.sockets_of(connection, ModelSocket, model_id)
        circuits = intake.circuits_of(connection, model_id)
    return ModelCircuits(
        model_id=model_id,
        name=f"{model.maker} {model.name}".strip(),
        line_v=model.line_v,
        positions=tuple(row.position for row in sockets),
        circuits=tuple(
            CircuitPlan(
                name=row.name,
                circuit=Circuit(row.circuit),
                positions=tuple(s.position for s in sockets if s.heater_circuit_id == row.id),
                **{column: getattr(row, column) for column in CIRCUIT_FIGURES},
            )
            for row in circuits
        ),
    )
