"""The one search field: a job's number, a tag, a type, a bin, a customer, a serial."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tubeshelf.domain.tags import parse_tag
from tubeshelf.services.changes import Kind
from tubeshelf.services.folding import search_words
from tubeshelf.services.shelf_search import search
from tubeshelf.store.queries.jobs import job_rows

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

MOST = 6
"""Finds of one kind that are offered."""


@dataclass(frozen=True, slots=True)
class Find:
    """Something that was found: what it is, its title and what tells it apart."""

    kind: Kind
    thing_id: int
    title: str
    sub: str


def find_anything(shop: Shop, *, text: str) -> tuple[Find, ...]:
    """What the text may mean: jobs first if it is a number, then types, spares, other jobs."""
    if not text.strip():
        return ()
    with shop.record.reading() as connection:
        rows = job_rows(connection, words=search_words(text), closed=None, limit=MOST)
    jobs = [
        Find(Kind.JOB, row.id, f"Job {row.number} · {row.title}", f"{row.customer} · {row.status}")
        for row in sorted(rows, key=lambda row: str(row.number) != text.strip())
    ]
    spares = [
        Find(
            Kind.ITEM,
            row.id,
            f"{row.designation or row.marked} {row.tag or f'lot of {row.quantity}'}",
            " · ".join(part for part in (row.bin, row.reads, row.verdict) if part),
        )
        for row in search(shop, find=text, limit=MOST).rows
    ]
    finds = [*jobs, *_types(shop, text), *spares] if parse_tag(text) is None else [*spares, *jobs]
    return tuple(finds)


def _types(shop: Shop, text: str) -> list[Find]:
    tube = shop.book.catalog.find(text)
    if tube is None:
        return []
    type_id = shop.book.id_of(tube.key)
    if type_id is None:
        return []
    names = ", ".join(tube.equivalents)
    return [Find(Kind.TYPE, type_id, tube.designation, " · ".join(p for p in (tube.function, names) if p))]
