"""What the chassis map says of a socket: its mark, the words below it, and all of it in a sentence."""

from collections.abc import Mapping
from dataclasses import replace

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.judging import NOT_READ, Stage
from tubeshelf.domain.verdict_words import doubt_text
from tubeshelf.domain.whereabouts import Where
from tubeshelf.services.chassis import ChassisSocket, ChassisView
from tubeshelf.services.shop import Shop
from tubeshelf.ui.marks import Look, fit_look, verdict_look
from tubeshelf.ui.parts.chassispaint import SocketMark
from tubeshelf.ui.parts.pins import CAP, Shape, shape_of

_SHORT = {
    Where.OUT: "Tube out",
    Where.BAG: "Tube in the bag",
    Where.AWAY: "Tube away",
    Where.FOUND_EMPTY: "Empty",
    Where.ASIDE: "Tube out",
    Where.ON_PURPOSE: "Left empty",
}
_NO_TUBE = (Where.FOUND_EMPTY, Where.ON_PURPOSE)
Stands = Mapping[str, Where]
"""Where the tube of each position is now."""


def marks_of(shop: Shop, view: ChassisView, stands: Stands) -> tuple[SocketMark, ...]:
    """The sockets of a chassis as they are drawn; those that stand empty now are drawn empty."""
    return tuple(_mark(shop, socket, stands, view.stage) for socket in view.sockets)


def spoken(socket: ChassisSocket, stands: Stands, stage: Stage) -> str:
    """A socket in a sentence."""
    place = _empty(socket, stands)
    in_it = socket.in_it or "unreadable"
    if place is not None and (place in _NO_TUBE or not socket.looked_at):
        told = [str(place)]
    elif not socket.looked_at:
        told = [f"for a {socket.intended}", "not looked yet"]
    else:
        since = _since(socket, stands, stage) if place is None else f"now {place}"
        told = [in_it, socket.verdict_text, since]
    fit = fit_look(socket.fit).word if socket.fit is not None and _is_off(socket, place) else ""
    saved = "" if socket.placed.saved else "place proposed"
    return ", ".join(part for part in (socket.position, socket.role, *told, fit, saved) if part)


def _mark(shop: Shop, socket: ChassisSocket, stands: Stands, stage: Stage) -> SocketMark:
    place = _empty(socket, stands)
    fit = fit_look(socket.fit) if socket.fit is not None and _is_off(socket, place) else None
    look, beside = _look(socket, place)
    return SocketMark(
        position=socket.position,
        seat=socket.placed.seat,
        look=look,
        beside=beside or _since(socket, stands, stage) or ("" if fit is None else fit.word),
        fit=fit,
        empty=place is not None,
        shape=_shape(shop, socket),
        spoken=spoken(socket, stands, stage),
    )


def _look(socket: ChassisSocket, place: Where | None) -> tuple[Look, str]:
    """The mark with its word, and a second line: of an empty socket, how its tube is."""
    doubt = doubt_text(socket.verdict)
    if place is not None:
        tube = place not in _NO_TUBE and socket.verdict.word != NOT_READ
        return Look("", _SHORT[place], "ink"), (doubt or socket.verdict.word) if tube else ""
    if not socket.looked_at:
        return Look("tube-none", "Not looked yet", "soft"), ""
    if doubt:
        return Look("tube-again", doubt.capitalize(), "again"), socket.verdict.word
    return verdict_look(socket.verdict.word), ""


def _since(socket: ChassisSocket, stands: Stands, stage: Stage) -> str:
    """That this job put another tube in: as found, it is not the one that the verdict is of."""
    if stands.get(socket.position) is not Where.INSTALLED:
        return ""
    return "installed" if stage is Stage.AS_LEFT else "replaced since"


def _empty(socket: ChassisSocket, stands: Stands) -> Where | None:
    place = stands.get(socket.position, Where.UNKNOWN)
    return place if place.is_empty else None


def _is_off(socket: ChassisSocket, place: Where | None) -> bool:
    return socket.looked_at and place not in _NO_TUBE and socket.fit is not Outcome.RIGHT_TYPE


def _shape(shop: Shop, socket: ChassisSocket) -> Shape | None:
    """Where the pins are of what the socket is meant for; none if its basing is not known."""
    tube = shop.book.type(socket.intended_type_id)
    if tube is None or not tube.basing.pins:
        return None
    pins = sum(pin != CAP for pin, _ in tube.basing.pins)
    shape = shape_of(tube.basing.base, pins)
    return replace(shape, angles=shape.angles[:pins], reach=shape.reach[:pins])
