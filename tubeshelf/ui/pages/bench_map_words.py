"""What the chassis map says of a socket: its mark, the words below it, and all of it in a sentence."""

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.judging import NOT_READ
from tubeshelf.domain.verdict_words import doubt_text
from tubeshelf.services.chassis import ChassisSocket, ChassisView
from tubeshelf.services.shop import Shop
from tubeshelf.ui.marks import Look, fit_look, verdict_look
from tubeshelf.ui.parts.chassispaint import SocketMark
from tubeshelf.ui.parts.pins import CAP, Shape, shape_of


def marks_of(shop: Shop, view: ChassisView) -> tuple[SocketMark, ...]:
    """The sockets of a chassis as they are drawn."""
    return tuple(_mark(shop, socket) for socket in view.sockets)


def spoken(socket: ChassisSocket) -> str:
    """A socket in a sentence."""
    if not socket.looked_at:
        stands = f"for a {socket.intended}, not looked yet"
    elif socket.empty:
        stands = ", ".join(part for part in (socket.empty, _of_the_old(socket)) if part)
    else:
        stands = ", ".join(part for part in (socket.in_it or "unreadable", socket.verdict_text) if part)
    fit = fit_look(socket.fit).word if _is_off(socket) and socket.fit is not None else ""
    place = "" if socket.saved else "place proposed"
    return ", ".join(part for part in (socket.position, socket.role, stands, fit, place) if part)


def _mark(shop: Shop, socket: ChassisSocket) -> SocketMark:
    fit = fit_look(socket.fit) if socket.fit is not None and _is_off(socket) else None
    look, beside = _look(socket)
    return SocketMark(
        position=socket.position,
        seat=socket.seat,
        look=look,
        beside=beside or ("" if fit is None else fit.word),
        fit=fit,
        empty=bool(socket.empty),
        shape=_shape(shop, socket),
        spoken=spoken(socket),
    )


def _look(socket: ChassisSocket) -> tuple[Look, str]:
    """The mark with its word, and a second line."""
    if not socket.looked_at:
        return Look("tube-none", "Not looked yet", "soft"), ""
    if socket.empty:
        return Look("", socket.empty.capitalize(), "ink"), _of_the_old(socket)
    if doubt := doubt_text(socket.verdict):
        return Look("tube-again", doubt.capitalize(), "again"), socket.verdict.word
    return verdict_look(socket.verdict.word), ""


def _of_the_old(socket: ChassisSocket) -> str:
    """What the tube was that is out of an empty socket."""
    return "" if socket.verdict.word == NOT_READ or not socket.in_it else socket.verdict.word


def _is_off(socket: ChassisSocket) -> bool:
    return socket.looked_at and not socket.empty and socket.fit not in (None, Outcome.RIGHT_TYPE)


def _shape(shop: Shop, socket: ChassisSocket) -> Shape | None:
    """Where the pins are of what the socket is meant for; none if its basing is not known."""
    tube = shop.book.type(socket.intended_type_id)
    if tube is None or not tube.basing.pins:
        return None
    pins = sum(pin != CAP for pin, _ in tube.basing.pins)
    shape = shape_of(tube.basing.base, pins)
    return Shape(shape.angles[:pins], shape.mark, shape.thick)
