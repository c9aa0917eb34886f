"""The one search field: a job's number, a tag, a type, a bin, a customer, a serial."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tubeshelf.domain.tags import format_tag, parse_tag
from tubeshelf.services.changes import Kind
from tubeshelf.services.folding import search_words
from tubeshelf.services.shelf_search import search
from tubeshelf.store.queries.comeback import last_stay
from tubeshelf.store.queries.jobs import job_rows
from tubeshelf.store.queries.shelf import item_of_tag

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

    ``0412`` and ``T0412`` are a tag before they are a job, ``214`` is a job before it is a tag. The tag of a
    tube that was put into a set leads to the last job of that set.
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
    finds: dict[tuple[Kind, int], Find] = {}
    for find in (*jobs[:exact], *_sets(shop, text), *_types(shop, text), *spares, *jobs[exact:]):
        finds.setdefault((find.kind, find.thing_id), find)
    return tuple(finds.values())


def _sets(shop: Shop, text: str) -> list[Find]:
    """The last job of the set in which the tube with this tag stands, or stood last."""
    tag = parse_tag(text) or 0
    with shop.record.reading() as connection:
        item_id = item_of_tag(connection, tag)
        stay = None if item_id is None else last_stay(connection, item_id)
        if stay is None or stay.equipment_id is None:
            return []
        rows = job_rows(connection, closed=None, equipment_id=stay.equipment_id)
        row = max(rows, key=lambda row: row.number)
    sub = f"{format_tag(tag)} in {stay.position} · {row.customer} · {row.status}"
    return [Find(Kind.JOB, row.id, f"Job {row.number} · {row.title}", sub)]


def _types(shop: Shop, text: str) -> list[Find]:
    tube = shop.book.catalog.find(text)
    if tube is None:
        return []
    type_id = shop.book.id_of(tube.key)
    if type_id is None:
        return []
    names = ", ".join(tube.equivalents)
    return [Find(Kind.TYPE, type_id, tube.designation, " · ".join(p for p in (tube.function, names) if p))]
