"""Views of a job's heaters: each winding and string as designed, as found and as planned."""

from dataclasses import dataclass

from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heater_set import CircuitState, StringState, WindingState


@dataclass(frozen=True, slots=True)
class HeaterState:
    """A circuit in one state of the set: a ``WindingState`` or ``StringState`` with the sentences about it.

    ``sentences`` are all of them, what warns first; ``warnings`` those under which the set should not run.
    """

    state: CircuitState
    sentences: tuple[str, ...]
    warnings: tuple[str, ...]

    @property
    def winding(self) -> WindingState | None:
        """The state of a winding; ``None`` for a string."""
        return self.state if isinstance(self.state, WindingState) else None

    @property
    def string(self) -> StringState | None:
        """The state of a string; ``None`` for a winding."""
        return self.state if isinstance(self.state, StringState) else None


@dataclass(frozen=True, slots=True)
class CircuitHeaters:
    """A winding or string with its three states; a string without written supply has the usual line."""

    name: str
    circuit: Circuit
    supply_v: float | None
    rating_a: float | None
    designed: HeaterState
    found: HeaterState
    planned: HeaterState

    @property
    def states(self) -> tuple[tuple[str, HeaterState], ...]:
        """The states by name, in order."""
        return (("designed", self.designed), ("found", self.found), ("planned", self.planned))


@dataclass(frozen=True, slots=True)
class LooseHeaters:
    """Sockets of one heater voltage whose circuit is not written down: what they take in all, in amperes.

    ``volts`` are those of the intended types, ``None`` where their heaters are not in the table; ``unknown``
    positions are not in the sums.
    """

    volts: float | None
    positions: tuple[str, ...]
    designed_a: float
    found_a: float
    planned_a: float
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HeaterWarning:
    """A sentence about a circuit as ``found`` or as ``planned``."""

    circuit: str
    state: str
    sentence: str


@dataclass(frozen=True, slots=True)
class JobHeaters:
    """The heaters of the set of a job."""

    job_id: int
    number: int
    title: str
    circuits: tuple[CircuitHeaters, ...]
    loose: tuple[LooseHeaters, ...]
    warnings: tuple[HeaterWarning, ...]
