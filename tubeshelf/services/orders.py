"""What has to be bought: for all open jobs together, and to bring the shelf back to what the shop wants."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from tubeshelf.services.needs import Need, open_needs
from tubeshelf.services.promises import jobs_text
from tubeshelf.services.stock import Stock, read_stock
from tubeshelf.services.views.shelf import OrderLine
from tubeshelf.store.queries import shelf

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook

_SETS = {2: "pair", 4: "quad"}


@dataclass(slots=True)
class _Wanted:
    """What is missing of one type, as it adds up over the jobs."""

    quantity: int = 0
    jobs: list[int] = field(default_factory=list)
    due: list[date] = field(default_factory=list)
    sets: Counter[int] = field(default_factory=Counter)
    below_par: str = ""

    def add(self, needs: Sequence[Need]) -> None:
        self.quantity += len(needs)
        self.jobs += [need.number for need in needs if need.number not in self.jobs]
        self.due += [need.due for need in needs if need.due is not None]
        if len(needs) > 1:
            self.sets[len(needs)] += 1


def order_list(shop: Shop) -> tuple[OrderLine, ...]:
    """What to buy, merged by type, soonest needed first.

    A socket to be replaced takes a free spare of its type (or of one that is as good) that is not known to
    be bad, earlier promised dates first; what finds none is bought. A match group is served whole or
    bought whole. Types of which fewer stay free than the shop wants are filled up.
    """
    needs = open_needs(shop)
    with shop.record.reading() as connection:
        pars = shelf.pars(connection)
        stock = read_stock(connection, shop.book)
    wanted: defaultdict[int, _Wanted] = defaultdict(_Wanted)
    for missing in unserved(shop.book, needs, stock):
        wanted[missing[0].type_id].add(missing)
    for type_id, par in pars.items():
        short = par - stock.free(type_id)
        if short > 0 and shop.book.type(type_id) is not None:
            wanted[type_id].quantity += short
            wanted[type_id].below_par = f"{stock.free(type_id)} left free, {par} wanted on hand"
    lines = [_line(shop.book, type_id, want, stock) for type_id, want in wanted.items()]
    return tuple(sorted(lines, key=lambda line: (line.needed_by or date.max, line.designation)))


def waiting_for(shop: Shop) -> dict[int, tuple[str, ...]]:
    """Which types each open job waits for, because nothing on the shelf is left for it; by the job's id."""
    needs = open_needs(shop)
    with shop.record.reading() as connection:
        stock = read_stock(connection, shop.book)
    waits: dict[int, list[str]] = {}
    for missing in unserved(shop.book, needs, stock):
        names = waits.setdefault(missing[0].job_id, [])
        name = shop.book.designation(missing[0].type_id)
        if name not in names:
            names.append(name)
    return {job_id: tuple(names) for job_id, names in waits.items()}


def unserved(book: TypeBook, needs: Iterable[Need], stock: Stock) -> list[list[Need]]:
    """The needs for which ``stock`` has nothing left, in the order of the needs; a match group together.

    What serves a need is taken out of ``stock``.
    """
    return [
        group
        for group in _groups(need for need in needs if not need.promised)
        if not stock.serve(book, group[0].type_id, len(group), group[0].job_id)
    ]


def _groups(needs: Iterable[Need]) -> list[list[Need]]:
    """Needs one by one, those of a match group of a job and of one type together."""
    groups: dict[tuple[int, str, int], list[Need]] = {}
    ordered: list[list[Need]] = []
    for need in needs:
        key = (need.job_id, need.match_group, need.type_id)
        if need.match_group and key in groups:
            groups[key].append(need)
            continue
        ordered.append([need])
        if need.match_group:
            groups[key] = ordered[-1]
    return ordered


def _line(book: TypeBook, type_id: int, want: _Wanted, stock: Stock) -> OrderLine:
    reasons = [f"for {jobs_text(want.jobs)}" if want.jobs else "", want.below_par]
    return OrderLine(
        type_id=type_id,
        designation=book.designation(type_id),
        quantity=want.quantity,
        substitutes=tuple(_substitutes(book, type_id, stock)),
        match=", ".join(_set_text(size, n) for size, n in sorted(want.sets.items())),
        jobs=tuple(want.jobs),
        needed_by=min(want.due, default=None),
        reason="; ".join(filter(None, reasons)),
    )


def _set_text(size: int, n: int) -> str:
    name = _SETS.get(size, f"matched set of {size}")
    if n == 1:
        return f"1 {name}"
    return f"{n} {name}s" if size in _SETS else f"{n} matched sets of {size}"


def _substitutes(book: TypeBook, type_id: int, stock: Stock) -> Iterable[str]:
    """What may be bought instead, and how many of it are free here already."""
    for entry in book.catalog.substitutes_for(book.key_of(type_id)):
        found = book.id_of(entry.found)
        if found is not None and entry.grade < 3:
            free = stock.free(found)
            yield book.designation(found) + (f" ({free} free here)" if free else "")
