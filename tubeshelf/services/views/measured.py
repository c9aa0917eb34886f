"""Views of what is measured in a set under power."""

from dataclasses import dataclass

from tubeshelf.domain.set_fields import SetField, value_text


@dataclass(frozen=True, slots=True)
class MeasuredValue:
    """One field of a job, at one output tube or (``socket_id`` empty) once; ``value`` in the field's unit.

    ``asked`` is False for a value whose field the model has no more.
    """

    field: SetField
    socket_id: int | None
    position: str
    value: float | None
    asked: bool = True

    @property
    def name(self) -> str:
        """The field and where: ``Cathode current V3``."""
        return f"{self.field.name} {self.position}".strip()

    @property
    def text(self) -> str:
        """The value with its unit; empty if it was not measured."""
        return "" if self.value is None else value_text(self.value, self.field.unit)


@dataclass(frozen=True, slots=True)
class OutputView:
    """What an output tube dissipates, in words; ``over`` says that it is too much, if it is.

    ``text`` is the answer, ``reckoning`` how it came about; both are empty where nothing was measured here.
    """

    socket_id: int
    position: str
    designation: str
    text: str
    reckoning: str
    over: str


@dataclass(frozen=True, slots=True)
class SetView:
    """What was measured in the set of one job, and what follows from it.

    ``model_id`` is ``None`` for a box of loose tubes, which is in no set. ``differences`` are about the
    currents of match groups; ``advice`` says what to do about what is over a rating, empty if nothing is.
    """

    job_id: int
    number: int
    model_id: int | None
    model: str
    values: tuple[MeasuredValue, ...]
    outputs: tuple[OutputView, ...]
    differences: tuple[str, ...]
    advice: str = ""

    @property
    def missing(self) -> int:
        """How many of the values that are asked for were not measured yet."""
        return sum(one.asked and one.value is None for one in self.values)

    @property
    def any_measured(self) -> bool:
        """Whether anything was measured at all."""
        return any(one.value is not None for one in self.values)
