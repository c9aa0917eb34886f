"""The one search field: a job's number, a tag, a type, a bin, a customer, a serial."""

from __future__ import annotations

import re
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

_JOB = re.compile(r"job\s+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Find:
    """Something that was found: what it is, its title and what tells it apart."""

    kind: Kind
    thing_id: int
    title: str
    sub: str


def find_anything(shop: Shop, *, text: str) -> tuple[Find, ...]:
    """What the text may mean, first what has exactly this number: a job, or the tube with this tag.

    ``0412`` and ``T0412`` are a tag before they are a job, ``214`` is a job before it is a tag.
    """
    text = text.strip()
    text = text[found.end() :] if (found := _JOB.match(text)) else text
    if not text:
        return ()
    with shop.record.reading() as connection:
        rows = job_rows(connection, words=search_words(text), closed=None, limit=MOST)
    jobs = [
        Find(Kind.JOB, row.id, f"Job {row.number} · {row.title}", f"{row.customer} · {row.status}")
        for row in sorted(rows, key=lambda row: str(row.number) != text)
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
    if parse_tag(text) is None:
        return (*jobs, *_types(shop, text), *spares)
    exact = sum(str(row.number) == text for row in rows)
    return (*jobs[:exact], *_types(shop, text), *spares, *jobs[exact:])


def _types(shop: Shop, text: str) -> list[Find]:
    tube = shop.book.catalog.find(text)
    if tube is None:
        return []
    type_id = shop.book.id_of(tube.key)
    if type_id is None:
        return []
    names = ", ".join(tube.equivalents)
    return [Find(Kind.TYPE, type_id, tube.designation, " · ".join(p for p in (tube.function, names) if p))]
