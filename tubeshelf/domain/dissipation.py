"""What an output tube dissipates in the set, from what was measured there, against its ratings."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from tubeshelf.domain.fit_sections import is_output
from tubeshelf.domain.fitting import Bias
from tubeshelf.domain.types import Section, TubeType


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured at one output tube, in volts against the chassis and mA; ``None`` if it was not.

    ``plate_at_supply`` tells that the plate volts are the B+ of the set, of which the output transformer
    takes a little. ``bias`` is what is written down of the socket; a cathode's volts are positive.
    """

    plate_v: float | None = None
    screen_v: float | None = None
    bias_v: float | None = None
    cathode_ma: float | None = None
    plate_ma: float | None = None
    bias: Bias | None = None
    plate_at_supply: bool = False


class Missing(StrEnum):
    """Why nothing can be worked out."""

    PLATE_V = "plate_v"
    CURRENT = "current"
    SECTION = "section"
    CATHODE_ABOVE = "cathode_above"


@dataclass(frozen=True, slots=True)
class Dissipation:
    """Watts at the plate, at no signal, and of what they were worked out.

    ``cathode_v`` is what the cathode stands above the chassis, ``None`` if a cathode bias was not measured.
    ``at_most`` tells that the current is the cathode's, so that the screen's share is counted in.
    ``screen_w`` is known where both currents and the screen volts are. Ratings are ``None`` if the type
    table has none.
    """

    volts: float
    milliamperes: float
    watts: float
    rated_w: float | None
    cathode_v: float | None
    at_most: bool
    at_supply: bool
    screen_w: float | None = None
    screen_rated_w: float | None = None

    @property
    def share(self) -> float | None:
        """The watts at the plate as a share of its rating."""
        return self.watts / self.rated_w if self.rated_w else None

    @property
    def is_over(self) -> bool:
        """Whether the plate or the screen is, or may be, over its rating."""
        pairs = ((self.watts, self.rated_w), (self.screen_w, self.screen_rated_w))
        return any(watts is not None and rated is not None and watts > rated for watts, rated in pairs)


def dissipation(measured: Measured, tube: TubeType) -> Dissipation | Missing:
    """P = (plate volts − cathode volts) × plate current.

    The product is the definition of electrical power, of a tube without a signal. Under cathode bias the
    cathode stands above the chassis by the bias, which the plate does not see. Where only the cathode's
    current is known, it is taken for the plate's: at a pentode, plate and screen share it, so the plate
    dissipates at most that much.
    """
    section = _section(tube)
    if section is None:
        return Missing.SECTION
    if measured.plate_v is None:
        return Missing.PLATE_V
    known = (measured.plate_ma, measured.cathode_ma)
    current = next((ma for ma in known if ma is not None), None)
    if current is None:
        return Missing.CURRENT
    cathode = _cathode_v(measured)
    volts = measured.plate_v - (cathode or 0.0)
    if volts < 0:
        return Missing.CATHODE_ABOVE
    return Dissipation(
        volts=volts,
        milliamperes=current,
        watts=volts * current / 1000,
        rated_w=section.plate_w_max,
        cathode_v=cathode,
        at_most=measured.plate_ma is None and _has_screen(section),
        at_supply=measured.plate_at_supply,
        screen_w=_screen_w(measured, cathode, section),
        screen_rated_w=section.screen_w_max,
    )


def _cathode_v(measured: Measured) -> float | None:
    """How far the cathode stands above the chassis; by the sign where nobody wrote down the kind of bias."""
    if measured.bias is Bias.FIXED:
        return 0.0
    if measured.bias_v is None:
        return None
    return abs(measured.bias_v) if measured.bias is Bias.CATHODE else max(measured.bias_v, 0.0)


def _screen_w(measured: Measured, cathode_v: float | None, section: Section) -> float | None:
    known = (measured.screen_v, measured.cathode_ma, measured.plate_ma)
    volts, whole, plate = known
    if volts is None or whole is None or plate is None or not _has_screen(section):
        return None
    return max(volts - (cathode_v or 0.0), 0.0) * max(whole - plate, 0.0) / 1000


def _has_screen(section: Section) -> bool:
    return "triode" not in section.function


def _section(tube: TubeType) -> Section | None:
    """The section that the current of a socket flows through; ``None`` where that cannot be told."""
    outputs = [section for section in tube.sections if is_output(section)] or list(tube.sections)
    return outputs[0] if len(outputs) == 1 else None


@dataclass(frozen=True, slots=True)
class Difference:
    """How far the currents of a match group are apart: (max − min) in mA, and of their mean in per cent."""

    positions: tuple[str, ...]
    milliamperes: float
    percent: float | None


def current_difference(currents: Sequence[tuple[str, float]]) -> Difference | None:
    """The spread of the currents, by position in mA; ``None`` of fewer than two."""
    if len(currents) < 2:
        return None
    values = [ma for _, ma in currents]
    apart, mean = max(values) - min(values), sum(values) / len(values)
    return Difference(tuple(p for p, _ in currents), apart, 100 * apart / mean if mean else None)
