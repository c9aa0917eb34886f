"""What follows from the values of a set: dissipation of each output tube, balance of a match group."""

from collections.abc import Sequence
from dataclasses import dataclass

from tubeshelf.domain.dissipation import Measured, Missing, current_difference, dissipation
from tubeshelf.domain.dissipation_words import (
    AFTER_OVER,
    MEASURE_PLATE,
    difference_text,
    dissipation_text,
    missing_text,
    over_text,
    reckoning_text,
)
from tubeshelf.domain.fitting import Bias
from tubeshelf.domain.set_fields import Quantity
from tubeshelf.domain.types import TubeType
from tubeshelf.services.views.measured import MeasuredValue, OutputView, SetView

_CURRENTS = (Quantity.PLATE_MA, Quantity.CATHODE_MA)


@dataclass(frozen=True, slots=True)
class Standing:
    """An output socket with the type of the tube that stands in it, and what is written down of its bias."""

    socket_id: int
    position: str
    match_group: str
    tube: TubeType
    bias: Bias | None


def output_of(standing: Standing, values: Sequence[MeasuredValue], *, alone: bool) -> OutputView:
    """What an output tube dissipates; a current measured once is its own only if it is ``alone``."""
    measured = _measured(standing, values, alone=alone)
    found = dissipation(measured, standing.tube)
    name = standing.tube.designation
    if isinstance(found, Missing):
        begun = measured.plate_ma is not None or measured.cathode_ma is not None
        text = missing_text(found) if begun or found is Missing.SECTION else ""
        return OutputView(standing.socket_id, standing.position, name, text, "", "")
    return OutputView(
        socket_id=standing.socket_id,
        position=standing.position,
        designation=name,
        text=dissipation_text(found),
        reckoning=reckoning_text(found),
        over=over_text(found),
    )


def _measured(standing: Standing, values: Sequence[MeasuredValue], *, alone: bool) -> Measured:
    def of(quantity: Quantity) -> tuple[float | None, bool]:
        """The value for this socket, its own before that of the whole set, and whether it is its own."""
        for own in (True, False):
            for one in values:
                here = one.socket_id == standing.socket_id if own else one.socket_id is None
                if here and one.asked and one.field.quantity is quantity and one.value is not None:
                    return one.value, own
        return None, False

    plate_v, own_plate = of(Quantity.PLATE_V)
    currents = {q: value for q in _CURRENTS for value, own in [of(q)] if own or alone}
    return Measured(
        plate_v=plate_v,
        screen_v=of(Quantity.SCREEN_V)[0],
        bias_v=of(Quantity.BIAS_V)[0],
        cathode_ma=currents.get(Quantity.CATHODE_MA),
        plate_ma=currents.get(Quantity.PLATE_MA),
        bias=standing.bias,
        plate_at_supply=not own_plate,
    )


def advice_of(outputs: Sequence[OutputView], values: Sequence[MeasuredValue]) -> str:
    """What to do about tubes over their ratings; empty if none is."""
    if not any(one.over for one in outputs):
        return ""
    plate = any(one.field.quantity is Quantity.PLATE_MA and one.value is not None for one in values)
    return AFTER_OVER if plate else f"{MEASURE_PLATE} {AFTER_OVER}"


def differences_of(standing: Sequence[Standing], values: Sequence[MeasuredValue]) -> tuple[str, ...]:
    """How far the currents of each match group are apart, by the plates' if they were measured."""
    sentences = []
    for group in dict.fromkeys(one.match_group for one in standing if one.match_group):
        of_group = {one.socket_id: one.position for one in standing if one.match_group == group}
        for quantity in _CURRENTS:
            currents = [
                (of_group[one.socket_id], one.value)
                for one in values
                if one.socket_id in of_group and one.field.quantity is quantity and one.value is not None
            ]
            if (found := current_difference(currents)) is not None:
                sentences.append(difference_text(found))
                break
    return tuple(sentences)


def paper_rows(view: SetView) -> tuple[tuple[str, str], ...]:
    """What a customer is told of what was measured: a name and a text, a row each; none if nothing was."""
    measured = [one for one in view.values if one.value is not None]
    fields = dict.fromkeys((one.field.name, one.field.unit) for one in measured)
    rows = [
        (name, " · ".join(f"{one.position} {one.text}".strip() for one in measured if _is(one, name, unit)))
        for name, unit in fields
    ]
    tubes = [
        ": ".join(part for part in (f"{one.position} {one.designation}", one.text, one.over) if part)
        for one in view.outputs
        if one.reckoning
    ]
    follows = (("Dissipation", tubes), ("Balance", view.differences))
    return (*rows, *((name, "\n".join(lines)) for name, lines in follows if lines))


def _is(value: MeasuredValue, name: str, unit: str) -> bool:
    return (value.field.name, value.field.unit) == (name, unit)
