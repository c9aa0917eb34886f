"""The demo's retubing: the named spares go in and are read once more, the rest goes back where it was."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from random import Random
from typing import TYPE_CHECKING

from tubeshelf.domain.jobs import Disposition
from tubeshelf.domain.judging import Stage
from tubeshelf.services.bench import set_disposition
from tubeshelf.services.demo.deciding import named_spares
from tubeshelf.services.demo.reading import enter
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shelf_moves import give_back
from tubeshelf.services.socket_facts import socket_row
from tubeshelf.services.spares import install

if TYPE_CHECKING:
    from tubeshelf.services.demo.workshop import Workshop
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.views.shelf import ReadView
    from tubeshelf.store.tablefile import Row

REPEATS_WITHIN = 0.015
"""How far a tube's second reading lies from its first, as a share: a tester repeats no better."""


def retube(workshop: Workshop, job_id: int, sockets: Mapping[str, int], findings: Sequence[Row]) -> None:
    """Install what is to be installed, with a reading as left; say of the other tubes that they went back."""
    shop = workshop.shop
    installed = [row.need("position") for row in findings if row.text("done") == "install"]
    for position, item_id in named_spares(shop, job_id, installed).items():
        install(shop, item_id=item_id, socket_id=sockets[position])
        lines = item_detail(shop, item_id=item_id).readings
        if lines:
            cell = _second_reading(lines, Random(f"{job_id} {position}"))
            enter(workshop, sockets[position], workshop.testers[lines[0].tester], cell, Stage.AS_LEFT)
    for row in findings:
        if row.text("done") == "refit":
            socket_id = sockets[row.need("position")]
            set_disposition(shop, socket_id=socket_id, disposition=Disposition.REFITTED)


def _second_reading(lines: Sequence[ReadView], chance: Random) -> str:
    """About what the tube read when it came in, to three figures as a dial is read."""
    values = (line.verdict.mean * chance.uniform(1 - REPEATS_WITHIN, 1 + REPEATS_WITHIN) for line in lines)
    return "/".join(f"{float(f'{value:.3g}'):.0f}" for value in values)


def hand_back(shop: Shop, sockets: Mapping[str, int], findings: Sequence[Row]) -> None:
    """Give the customer's old tubes back with the set."""
    for row in findings:
        if row.text("done") == "install":
            with shop.record.reading() as connection:
                old = socket_row(connection, sockets[row.need("position")]).item_id
            if old is not None:
                give_back(shop, item_id=old)
