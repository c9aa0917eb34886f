"""The heaters of a job's set: every winding and string as designed, as found and as planned."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from math import fsum
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heater_notes import notes_of
from tubeshelf.domain.heater_set import (
    CircuitState,
    Feed,
    Load,
    empty,
    load_of,
    string_amperes,
    string_state,
    winding_state,
    wiring_of,
)
from tubeshelf.domain.heater_words import say_note
from tubeshelf.domain.heaters import Ballast, Lamp
from tubeshelf.domain.jobs import Action, Answer, Disposition, FoundState
from tubeshelf.domain.lamp_checks import lamp_check
from tubeshelf.domain.types import HeaterArrangement, Heating
from tubeshelf.services.jobs import open_job
from tubeshelf.services.socket_facts import string_supply
from tubeshelf.services.views.bench import JobView, SocketView
from tubeshelf.services.views.heaters import (
    CircuitHeaters,
    HeaterState,
    HeaterWarning,
    JobHeaters,
    LooseHeaters,
)
from tubeshelf.store.queries import bench

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook


def job_heaters(shop: Shop, *, number: int | None = None, job_id: int | None = None) -> JobHeaters:
    """The heaters of a job, by number or id.

    As found a socket that nobody looked at counts as intended and is named as that. As planned each has what
    was installed, else for a replacement the spare named for it or the intended type, else what was found.
    Raises UserError for a job that is not there or has no set.
    """
    job = open_job(shop, number=number, job_id=job_id)
    if job.equipment_id is None:
        raise UserError(f"Job {job.number} is a box of loose tubes: it has no heater circuits.")
    fed_by, feeds = _circuits_of(shop, job.id)
    by_circuit: dict[int | None, list[SocketView]] = defaultdict(list)
    for socket in job.sockets:
        by_circuit[fed_by.get(socket.id)].append(socket)
    planner = _Planner(shop, planned=job.status.is_open)
    circuits = tuple(planner.circuit(feed_of(row), by_circuit[row.id]) for row in feeds)
    return JobHeaters(
        job_id=job.id,
        number=job.number,
        title=job.title,
        circuits=circuits,
        loose=planner.loose(by_circuit[None]),
        warnings=tuple(
            HeaterWarning(circuit.name, name, sentence)
            for circuit in circuits
            for name, state in circuit.states[1:]
            for sentence in state.warnings
        ),
    )


def lamp_checks(shop: Shop, *, job: JobView) -> tuple[str, ...]:
    """A sentence for the lamps of each heater circuit of a job's set: they belong on the retube list."""
    if job.equipment_id is None:
        return ()
    _, feeds = _circuits_of(shop, job.id)
    types = {socket.position: socket.intended for socket in job.sockets}
    notes = (lamp_check(feed_of(row), types) for row in feeds)
    return tuple(say_note(note) for note in notes if note is not None)


def _circuits_of(shop: Shop, job_id: int) -> tuple[dict[int, int | None], list[Row[Any]]]:
    """Which circuit feeds each socket of a job, by ids, and the circuits as they were written down."""
    with shop.record.reading() as connection:
        rows = bench.job_sockets(connection, [job_id])
        ids = {row.heater_circuit_id for row in rows} - {None}
        feeds = bench.heater_circuits(connection, ids) if ids else ()
    return {row.id: row.heater_circuit_id for row in rows}, sorted(feeds, key=lambda row: row.id)


def feed_of(row: Row[Any]) -> Feed:
    """A heater circuit as the arithmetic takes it."""
    series = row.circuit == Circuit.SERIES
    on_string = series and row.lamp_at not in ("", "winding")
    ballast = (row.ballast_a, row.ballast_low_v, row.ballast_high_v)
    return Feed(
        name=row.name,
        circuit=Circuit(row.circuit),
        volts=string_supply(row) if series else row.volts,
        rated_a=row.rated_a,
        drop_ohm=row.drop_ohm,
        lamps_a=None if series else row.lamp_a,
        lamp=Lamp(row.lamp_v, row.lamp_a, row.lamp_at, row.lamp_tap_ohm) if on_string else None,
        ballast=Ballast(*ballast) if series and None not in ballast else None,
    )


class _Planner:
    """Puts tubes into sockets on paper. Without ``planned`` (a job that is done) nothing more is put in."""

    def __init__(self, shop: Shop, *, planned: bool) -> None:
        self._book: TypeBook = shop.book
        self._high_line_v = shop.settings.high_line_v
        self._planned = planned

    def circuit(self, feed: Feed, sockets: Sequence[SocketView]) -> CircuitHeaters:
        """One winding or string with its three states."""
        wirings = self._wirings(feed, sockets)
        designed, found, planned = (
            [place(socket, wiring) for socket, wiring in zip(sockets, wirings, strict=True)]
            for place in (self._designed, self._found, self._as_planned)
        )
        meant = winding_state(feed, designed).sum
        designed_a = None if meant.unknown else meant.amperes
        return CircuitHeaters(
            name=feed.name,
            circuit=feed.circuit,
            supply_v=feed.supply_v if feed.circuit is Circuit.SERIES else feed.volts,
            rating_a=feed.rated_a,
            designed=_told(self._state(feed, designed, designed_a), as_designed=True),
            found=_told(self._state(feed, found, designed_a)),
            planned=_told(self._state(feed, planned, designed_a)),
        )

    def loose(self, sockets: Sequence[SocketView]) -> tuple[LooseHeaters, ...]:
        """The sockets that no circuit is written down for, by the volts of what they are meant for."""
        groups: dict[float, list[SocketView]] = defaultdict(list)
        unknown: list[SocketView] = []
        for socket in sockets:
            tube = self._book.type(socket.intended_type_id)
            wiring = self._wiring(socket)
            if wiring is not None:
                groups[wiring.volts].append(socket)
            elif tube is None or tube.heating is not Heating.COLD:
                unknown.append(socket)
        known = tuple(self._loose(volts, groups[volts]) for volts in sorted(groups))
        return (*known, self._loose(None, unknown)) if unknown else known

    def _loose(self, volts: float | None, sockets: Sequence[SocketView]) -> LooseHeaters:
        sums: list[float] = []
        unknown: dict[str, None] = {}
        for place in (self._designed, self._found, self._as_planned):
            loads = [place(socket, self._wiring(socket)) for socket in sockets]
            heaters = [load.heater for load in loads if load.heater is not None]
            sums.append(fsum(heater.amperes for heater in heaters if heater.amperes is not None))
            unknown |= dict.fromkeys(heater.label for heater in heaters if heater.amperes is None)
        return LooseHeaters(
            volts=volts,
            positions=tuple(socket.position for socket in sockets),
            designed_a=sums[0],
            found_a=sums[1],
            planned_a=sums[2],
            unknown=tuple(unknown),
        )

    def _state(self, feed: Feed, loads: Sequence[Load], designed_a: float | None) -> CircuitState:
        if feed.circuit is Circuit.SERIES:
            return string_state(feed, loads, high_line_v=self._high_line_v)
        return winding_state(feed, loads, designed_a=designed_a)

    def _wirings(self, feed: Feed, sockets: Sequence[SocketView]) -> list[HeaterArrangement | None]:
        if feed.circuit is Circuit.PARALLEL:
            return [self._wiring(socket, volts=feed.volts) for socket in sockets]
        amperes = string_amperes(self._book.type(socket.intended_type_id) for socket in sockets)
        return [self._wiring(socket, amperes=amperes) for socket in sockets]

    def _wiring(
        self, socket: SocketView, *, volts: float | None = None, amperes: float | None = None
    ) -> HeaterArrangement | None:
        designed = self._book.type(socket.intended_type_id)
        return wiring_of(designed, pins=socket.written.heater_pins, volts=volts, amperes=amperes)

    def _designed(self, socket: SocketView, wiring: HeaterArrangement | None) -> Load:
        return self._load(socket, socket.intended_type_id, socket.intended, wiring)

    def _found(self, socket: SocketView, wiring: HeaterArrangement | None) -> Load:
        found = socket.found
        if found.state is FoundState.EMPTY:
            return empty(socket.position)
        if found.state is FoundState.NOT_LOOKED:
            return replace(self._designed(socket, wiring), assumed=True)
        return self._load(socket, found.type_id, found.marked or str(found.state), wiring)

    def _as_planned(self, socket: SocketView, wiring: HeaterArrangement | None) -> Load:
        put_in = socket.fitted
        replaces = self._planned and socket.action is Action.REPLACE and socket.answer is not Answer.DECLINED
        if socket.disposition is Disposition.EMPTY_ON_PURPOSE:
            return empty(socket.position)
        if put_in is None and replaces:
            put_in = socket.spare
            if put_in is None:
                return self._designed(socket, wiring)
        if put_in is None:
            return self._found(socket, wiring)
        return self._load(socket, self._book.id_of(put_in.designation), put_in.designation, wiring)

    def _load(
        self, socket: SocketView, type_id: int | None, name: str, wiring: HeaterArrangement | None
    ) -> Load:
        designed = self._book.type(socket.intended_type_id)
        tube = self._book.type(type_id)
        return load_of(socket.position, tube, designed=designed, wiring=wiring, name=name)


def _told(state: CircuitState, *, as_designed: bool = False) -> HeaterState:
    notes = notes_of(state, as_designed=as_designed)
    return HeaterState(
        state=state,
        sentences=tuple(map(say_note, notes)),
        warnings=tuple(say_note(note) for note in notes if note.warns),
    )
