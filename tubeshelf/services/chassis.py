"""The chassis of a job's set from above: where each socket is and how it stands; saved with the model."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.chassis import Seat, complete
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Disposition, FoundState
from tubeshelf.domain.judging import Stage, TubeVerdict
from tubeshelf.domain.places import Place
from tubeshelf.domain.verdict_words import doubt_text
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.jobs import open_job
from tubeshelf.services.sockets import NO_OWN
from tubeshelf.services.stage_verdict import verdict_at
from tubeshelf.services.views.bench import JobView, SocketView
from tubeshelf.store.queries import intake
from tubeshelf.store.tables import ModelSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a socket is, and whether that was saved; a socket of an old job may be in its model no more."""

    seat: Seat
    saved: bool
    in_model: bool


@dataclass(frozen=True, slots=True)
class ChassisSocket:
    """A socket on the chassis.

    ``placed_by`` is what a first layout goes by; ``verdict`` and ``fit`` are those of the tube at the stage
    that was asked for.
    """

    socket_id: int
    position: str
    role: str
    intended: str
    intended_type_id: int
    placed: Placed
    placed_by: str
    in_it: str
    looked_at: bool
    verdict: TubeVerdict
    verdict_text: str
    fit: Outcome | None


@dataclass(frozen=True, slots=True)
class ChassisView:
    """The chassis of a job's set from above, in test order."""

    job_id: int
    number: int
    title: str
    model_id: int
    stage: Stage
    tester: str
    sockets: tuple[ChassisSocket, ...]

    @property
    def unsaved(self) -> tuple[str, ...]:
        """The positions that nobody has placed yet: where they are drawn is a proposal."""
        return tuple(socket.position for socket in self.sockets if not socket.placed.saved)


def chassis_of(
    shop: Shop,
    *,
    job_id: int,
    tester_id: int | None = None,
    stage: Stage = Stage.AS_FOUND,
    own_testers: Mapping[int, int] = NO_OWN,
) -> ChassisView:
    """The chassis as a job is seen on a tester at a stage; a first layout where none was saved.

    ``own_testers`` names another tester for a socket, by its id. Raises UserError for a job that is not there
    or is a box of loose tubes.
    """
    job = open_job(shop, job_id=job_id, tester_id=tester_id, stage=stage, own_testers=own_testers)
    if job.model_id is None:
        raise UserError(f"Job {job.number} is a box of loose tubes: it has no chassis map.")
    seats = seats_of(shop, job)
    return ChassisView(
        job_id=job.id,
        number=job.number,
        title=job.title,
        model_id=job.model_id,
        stage=stage,
        tester="" if job.tester is None else job.tester.name,
        sockets=tuple(_socket(shop, socket, stage, seats[socket.position]) for socket in job.sockets),
    )


def seats_of(shop: Shop, job: JobView) -> dict[str, Placed]:
    """Where each position of a job's set is; nothing for loose tubes."""
    if job.model_id is None:
        return {}
    with shop.record.reading() as connection:
        rows = intake.sockets_of(connection, ModelSocket, job.model_id)
    known = {row.position: _seat(row) for row in rows}
    saved = [known.get(socket.position) for socket in job.sockets]
    seats = complete([_role(shop, socket) for socket in job.sockets], saved)
    return {
        socket.position: Placed(seat, was is not None, socket.position in known)
        for socket, seat, was in zip(job.sockets, seats, saved, strict=True)
    }


def place_sockets(
    shop: Shop, *, model_id: int, places: Mapping[str, Seat], origin: str = ""
) -> tuple[None, Changes]:
    """Save where sockets of a model are, by position, as one act; those not named stay where they are.

    Raises UserError for a position that the model does not have or a seat that is not on the chassis.
    """
    with shop.record.act("chassis map") as journal:
        model = intake.model(journal.connection, model_id)
        if model is None:
            raise UserError("That model is gone; reload the page.")
        rows = {row.position: row for row in intake.sockets_of(journal.connection, ModelSocket, model_id)}
        name = f"{model.maker} {model.name}".strip()
        if missing := [position for position in places if position not in rows]:
            raise UserError(f"The {name} has no {', '.join(missing)}; reload the page.")
        for position, seat in places.items():
            if not (0 <= seat.x <= 1 and 0 <= seat.y <= 1):  # not a number is neither
                raise UserError(f"{position} is not on the chassis; place it again.")
            if _seat(rows[position]) != seat:
                journal.update(ModelSocket, rows[position].id, map_x=seat.x, map_y=seat.y)
        journal.said = f"Chassis map of the {name} saved"
        return None, Changes(journal.act_id, journal.said, frozenset({(Kind.MODEL, model_id)}), origin)


def map_words(shop: Shop, socket: SocketView, stage: Stage) -> tuple[str, str]:
    """How the tube of a socket is and, where it is not right, how it fits: words for a printed map.

    A socket whose tube was pulled is empty; what it reads stands in the tables.
    """
    if socket.fitted is not None:
        return "installed", ""
    if socket.found.state is FoundState.NOT_LOOKED:
        return "not looked yet", ""
    if socket.disposition is Disposition.EMPTY_ON_PURPOSE:
        return "left empty", ""
    if socket.found.state is FoundState.EMPTY or socket.found.place not in ("", Place.SOCKET):
        return "empty", ""
    verdict, _ = verdict_at(shop, socket, stage)
    off = socket.fit is not None and socket.fit.outcome is not Outcome.RIGHT_TYPE
    return doubt_text(verdict) or verdict.word, socket.fit.word if off and socket.fit is not None else ""


def _socket(shop: Shop, socket: SocketView, stage: Stage, placed: Placed) -> ChassisSocket:
    put_in = socket.fitted if stage is Stage.AS_LEFT else None
    verdict, text = verdict_at(shop, socket, stage)
    found = None if socket.fit is None else socket.fit.outcome
    return ChassisSocket(
        socket_id=socket.id,
        position=socket.position,
        role=socket.role,
        intended=socket.intended,
        intended_type_id=socket.intended_type_id,
        placed=placed,
        placed_by=_role(shop, socket),
        in_it=socket.found.marked or socket.found.designation if put_in is None else put_in.designation,
        looked_at=put_in is not None or socket.found.state is not FoundState.NOT_LOOKED,
        verdict=verdict,
        verdict_text=text,
        fit=found if put_in is None else put_in.outcome,
    )


def _role(shop: Shop, socket: SocketView) -> str:
    """What a socket is for: its role, or where nobody wrote one what its type is made for."""
    if socket.role.strip():
        return socket.role
    tube = shop.book.type(socket.intended_type_id)
    return "" if tube is None else tube.function


def _seat(row: Row[Any]) -> Seat | None:
    return None if row.map_x is None or row.map_y is None else Seat(row.map_x, row.map_y)
