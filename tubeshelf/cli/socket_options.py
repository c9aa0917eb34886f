"""Options that say what is known of a socket, for the verbs that ask about fit."""

import argparse
from collections.abc import Callable
from typing import TypeVar

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Bias, Circuit, SocketFacts
from tubeshelf.domain.numbers import parse_number
from tubeshelf.domain.written_facts import pins, wiring

Read = TypeVar("Read")


def add_socket_options(parser: argparse.ArgumentParser) -> None:
    """Adds them to a verb; whatever is not given is not known."""
    facts = parser.add_argument_group("what is known of the socket")
    circuits = [str(circuit) for circuit in Circuit]
    facts.add_argument("--circuit", choices=circuits, default="parallel", help="how the heater is fed")
    facts.add_argument(
        "--heater-pins", type=_read(wiring), metavar="PINS", help="how it is wired, such as 4+5-9"
    )
    facts.add_argument("--winding", type=_number("A"), metavar="A", help="rating of the heater winding")
    facts.add_argument(
        "--winding-load", type=_number("A"), metavar="A", help="what it was designed to give, lamps included"
    )
    facts.add_argument("--supply", type=_number("V"), metavar="V", help="plate supply; B+ at a rectifier")
    facts.add_argument("--screen-supply", type=_number("V"), metavar="V", help="supply of the screen grid")
    facts.add_argument("--bias", choices=[str(bias) for bias in Bias], help="how the grid gets its bias")
    facts.add_argument(
        "--bias-volts", type=_number("V", negative=True), metavar="V", help="fixed bias, such as -14"
    )
    facts.add_argument(
        "--capacitor", type=_number("V"), metavar="V", help="what the first filter capacitor stands"
    )
    facts.add_argument(
        "--ties", type=_read(pins), metavar="PINS", help="pins that the set uses as tie points, such as 1,6"
    )


def facts_of(args: argparse.Namespace) -> SocketFacts:
    """What the options say."""
    return SocketFacts(
        circuit=Circuit(args.circuit),
        winding_a=args.winding,
        winding_load_a=args.winding_load,
        plate_supply_v=args.supply,
        screen_supply_v=args.screen_supply,
        heater_pins=args.heater_pins or "",
        bias=None if args.bias is None else Bias(args.bias),
        bias_v=args.bias_volts,
        capacitor_v=args.capacitor,
        ties=args.ties or (),
    )


def _read(reader: Callable[[str], Read]) -> Callable[[str], Read]:
    """A reader of the domain as argparse takes one: what it cannot read is bad usage."""

    def read(text: str) -> Read:
        try:
            return reader(text)
        except UserError as error:
            raise argparse.ArgumentTypeError(error.sentence) from None

    return read


def _number(unit: str, *, negative: bool = False) -> Callable[[str], float]:
    """Reads a figure with or without its unit; a bias below zero, whether the minus is typed or not."""

    def read(text: str) -> float:
        value = _read(lambda typed: parse_number(typed, unit))(text)
        if negative:
            return -abs(value)
        if value <= 0:
            raise argparse.ArgumentTypeError(f"{text} is not above zero.")
        return value

    return read
