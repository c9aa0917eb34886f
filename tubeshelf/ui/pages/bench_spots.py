"""Where an entry belongs on the bench page: which socket, which field, and what Enter goes on to."""

from dataclasses import dataclass

from tubeshelf.domain.jobs import Disposition, FoundState
from tubeshelf.domain.judging import Stage
from tubeshelf.services.views.bench import JobView, LineView, SocketView


@dataclass(frozen=True, slots=True)
class Spot:
    """A field of a socket: the setting line with this index, or (``None``) what was found in it."""

    socket_id: int
    line: int | None = None


def has_tube(socket: SocketView, stage: Stage) -> bool:
    """Whether a tube stands there that can be read at this stage."""
    if stage is Stage.AS_LEFT and socket.fitted is not None:
        return True
    if stage is Stage.AS_LEFT and socket.disposition is Disposition.EMPTY_ON_PURPOSE:
        return False
    return socket.found.state in (FoundState.TYPE, FoundState.UNREADABLE)


def read_elsewhere(socket: SocketView, stage: Stage) -> tuple[LineView, ...]:
    """What was read at this stage on the other tester used last, where nothing was on the chosen one.

    As left, a tube that stays counts with what it read as found, on whatever tester.
    """
    if any(line.readings for line in socket.lines):
        return ()
    fitted = socket.fitted is not None
    lines = socket.as_left if stage is Stage.AS_LEFT and (socket.as_left or fitted) else socket.other_lines
    read = [line for line in lines if line.readings]
    if not read:
        return ()
    latest = max(read, key=lambda line: line.readings[-1].at).tester
    return tuple(line for line in read if line.tester.id == latest.id)


def stays_as_found(socket: SocketView, stage: Stage) -> bool:
    """Whether, as left, a tube that stays counts with what it read as found, for want of a later reading."""
    return stage is Stage.AS_LEFT and socket.fitted is None and not socket.as_left


def fields(socket: SocketView, stage: Stage) -> tuple[int | None, ...]:
    """The fields of a socket from left to right; what was found is settled once tubes are put in."""
    lines = tuple(range(len(socket.lines))) if has_tube(socket, stage) else ()
    return lines if stage is Stage.AS_LEFT and lines else (None, *lines)


def entry(socket: SocketView, stage: Stage) -> Spot:
    """Where one comes into a socket: its first line that is not read, else its first, else what was found."""
    fillable = [field for field in fields(socket, stage) if field is not None]
    unread = [field for field in fillable if not socket.lines[field].readings]
    return Spot(socket.id, next(iter(unread or fillable), None))


def first(job: JobView) -> Spot | None:
    """Where work goes on in a job: the first socket with something to enter, else the first of all."""
    open_ones = [socket for socket in job.sockets if asks(socket, job.stage)]
    return next((entry(socket, job.stage) for socket in (*open_ones, *job.sockets)), None)


def after(job: JobView, spot: Spot) -> Spot | None:
    """What Enter goes on to: the next field of the socket, else the next socket; ``None`` at the end.

    As left, only tubes that this job put in are asked for: a kept one needs no second reading.
    """
    here = [socket.id for socket in job.sockets].index(spot.socket_id)
    own = fields(job.sockets[here], job.stage)
    if (at := own.index(spot.line) if spot.line in own else len(own)) + 1 < len(own):
        return Spot(spot.socket_id, own[at + 1])
    for socket in job.sockets[here + 1 :]:
        if job.stage is not Stage.AS_LEFT or socket.fitted is not None:
            lines = [field for field in fields(socket, job.stage) if field is not None]
            return Spot(socket.id, next(iter(lines), None))
    return None


def onward(job: JobView, spot: Spot) -> Spot | None:
    """Where to go once it is said what was found: to the first line of the tube, else as ``after``."""
    lines = [field for field in fields(job.socket(spot.socket_id), job.stage) if field is not None]
    return Spot(spot.socket_id, lines[0]) if lines else after(job, spot)


def left_to_read(job: JobView, spot: Spot) -> Spot | None:
    """The first line of the socket that is not read yet, else as ``after`` its last."""
    socket = job.socket(spot.socket_id)
    here = entry(socket, job.stage)
    if here.line is None or not socket.lines[here.line].readings:
        return here
    return after(job, Spot(socket.id, fields(socket, job.stage)[-1]))


def before(job: JobView, spot: Spot) -> Spot | None:
    """One field back, into the socket before if need be; ``None`` at the beginning."""
    here = [socket.id for socket in job.sockets].index(spot.socket_id)
    own = fields(job.sockets[here], job.stage)
    if spot.line in own and (at := own.index(spot.line)) > 0:
        return Spot(spot.socket_id, own[at - 1])
    if here == 0:
        return None
    socket = job.sockets[here - 1]
    return Spot(socket.id, fields(socket, job.stage)[-1])


def beside(job: JobView, spot: Spot, rows: int) -> Spot:
    """The entry of the socket so many rows further down, or as far as there are any."""
    here = [socket.id for socket in job.sockets].index(spot.socket_id)
    there = min(max(here + rows, 0), len(job.sockets) - 1)
    return spot if there == here else entry(job.sockets[there], job.stage)


def still(job: JobView, spot: Spot | None) -> Spot | None:
    """The same spot in a job that was read anew, or the nearest that there is now."""
    if spot is None or all(socket.id != spot.socket_id for socket in job.sockets):
        return first(job)
    socket = job.socket(spot.socket_id)
    return spot if spot.line in fields(socket, job.stage) else entry(socket, job.stage)


def differs(old: JobView, new: JobView) -> Spot | None:
    """The first field that is not what it was: where to look after something was taken back."""
    was = {socket.id: socket for socket in old.sockets}
    for socket in new.sockets:
        past = was.get(socket.id)
        if past is None or past == socket:
            continue
        if past.found != socket.found:
            return Spot(socket.id, None if new.stage is not Stage.AS_LEFT else entry(socket, new.stage).line)
        for field in fields(socket, new.stage):
            if field is not None and _readings(past, field) != _readings(socket, field):
                return Spot(socket.id, field)
        if past.observations != socket.observations or past.action != socket.action:
            return entry(socket, new.stage)
    return None


def line_at(job: JobView, spot: Spot | None) -> LineView | None:
    """The setting line of a spot."""
    if spot is None or spot.line is None:
        return None
    return job.socket(spot.socket_id).lines[spot.line]


def asks(socket: SocketView, stage: Stage) -> bool:
    """Whether something is left to enter at a socket; as left only at one with a tube that was put in."""
    if stage is Stage.AS_LEFT and socket.fitted is None:
        return False
    if socket.found.state is FoundState.NOT_LOOKED:
        return True
    unread = any(not line.readings for line in socket.lines)
    return has_tube(socket, stage) and unread and not read_elsewhere(socket, stage)


def _readings(socket: SocketView, field: int) -> object:
    return socket.lines[field].readings if field < len(socket.lines) else None
