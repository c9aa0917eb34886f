"""What to mind with a type of tube, in one sentence a code; shop rules defer to local codes."""

from collections.abc import Mapping
from types import MappingProxyType

from tubeshelf.domain.types import TubeType

DEFERENCE = (
    "Follow your local codes; where the law asks for a qualified or licensed person, that person decides."
)

MEASURING = (
    "Lethal voltages are present while these are measured, and stored charge stays after the plug is out. "
    "Connect the meter with the set off and discharged; on a live chassis, behind an isolation transformer. "
    f"{DEFERENCE}"
)
"""What stands where values of a set under power are entered."""

CAUTIONS: Mapping[str, str] = MappingProxyType(
    {
        "top_cap": "The top cap is live, on the tester as well.",
        "mercury": "Possible mercury inside: keep it boxed, never break it.",
        "radioactive": "Possible trace of radioactive material: keep it boxed, never break it.",
        "beryllium": "Possible beryllium oxide: never break, grind or file it.",
        "xray": "X-rays above several kilovolts: keep the cage on.",
    }
)
"""The sentence of each code that the table of types uses."""


def caution_text(code: str) -> str:
    """The sentence of a code; a code that has none, such as one of the shop's own, is told as it is."""
    return CAUTIONS.get(code, f"Caution: {code}.")


def cautions(*tubes: TubeType | None) -> list[str]:
    """What to mind with these types, each sentence once; a cap is live also where no code says so."""
    codes: dict[str, None] = {}
    for tube in tubes:
        if tube is not None:
            capped = any(pin == "cap" for pin, _ in tube.basing.pins)
            codes |= dict.fromkeys((*(("top_cap",) if capped else ()), *tube.cautions))
    return [caution_text(code) for code in codes]
