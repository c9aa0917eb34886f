"""What the tube in a socket is worth at a stage: the one place that the list and the chassis map both ask."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from tubeshelf.domain.judging import Observation, Stage, TubeVerdict
from tubeshelf.services.sockets import tube_verdict
from tubeshelf.services.views.bench import LineView, SocketView

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def verdict_at(shop: Shop, socket: SocketView, stage: Stage) -> tuple[TubeVerdict, str]:
    """The verdict of what stands in a socket at a stage, and its words.

    As left that is the tube that the job put in; one that stays counts with its latest valid readings.
    """
    if stage is Stage.AS_LEFT and socket.fitted is not None:
        tube = shop.book.type(shop.book.id_of(socket.fitted.designation))
        lines = (*socket.lines, *_elsewhere(socket, socket.as_left))
        return tube_verdict(lines, _noted(socket, stage), tube)
    if stage is Stage.AS_LEFT and (socket.as_left or _noted(socket, stage)):
        seen = _noted(socket, Stage.AS_FOUND, stage)
        lines = (*latest_lines(socket), *_elsewhere(socket, (*socket.other_lines, *socket.as_left)))
        return tube_verdict(lines, seen, shop.book.type(socket.found.type_id))
    return socket.verdict, socket.verdict_text


def _elsewhere(socket: SocketView, lines: Iterable[LineView]) -> Iterable[LineView]:
    """Those of the lines that are of other testers than the chosen one, each as it was read last."""
    chosen = {line.tester.id for line in socket.lines}
    others = {(line.tester.id, line.line_id): line for line in lines if line.tester.id not in chosen}
    return others.values()


def latest_lines(socket: SocketView) -> list[LineView]:
    """The lines of a tube that stays: as left where they were read again, else as found."""
    found = {(line.tester.id, line.line_id): line for line in socket.other_lines}
    return [
        line if line.readings else found.get((line.tester.id, line.line_id), line) for line in socket.lines
    ]


def _noted(socket: SocketView, *stages: Stage) -> list[Observation]:
    return [seen for _, at, seen in socket.observations if at in stages]
