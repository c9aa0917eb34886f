"""What is kept of the shelf between two questions is, after any act, what a fresh look at it finds."""

from collections.abc import Callable

import pytest

from tests.services import shelfwork
from tests.services.benchwork import Bench, add_tester, amplifier
from tubeshelf.domain.jobs import Action, Condition
from tubeshelf.domain.judging import Mark
from tubeshelf.services import bench, shelf_edit, shelf_moves, shelf_reading, spares, undo
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import SpareView

_SOCKETS = ("V1", "V3", "V4")
_MOST = 3

Step = Callable[[Shop, Bench, list[int]], object]

_STEPS: dict[str, Step] = {
    "received": lambda shop, amp, ids: shelfwork.tube(shop, "6BQ5", price=10),
    "a substitute received": lambda shop, amp, ids: shelfwork.tube(shop, "7189", price=10),
    "sold": lambda shop, amp, ids: shelf_moves.sell(shop, item_id=ids[0]),
    "moved": lambda shop, amp, ids: shelf_moves.move(shop, item_id=ids[0], bin="Z9"),
    "read": lambda shop, amp, ids: shelfwork.read(shop, amp.tester, ids[1], "12000"),
    "read bad": lambda shop, amp, ids: shelfwork.read(shop, amp.tester, ids[0], "900"),
    "read on a new tester": lambda shop, amp, ids: shelfwork.read(
        shop, add_tester(shop, "Tester C"), ids[0], "9000"
    ),
    "marked": lambda shop, amp, ids: shelf_reading.observe_spare(
        shop, item_id=ids[0], mark=Mark.GAS, is_fault=True
    ),
    "matched": lambda shop, amp, ids: shelf_edit.make_set(shop, item_ids=ids[:2]),
    "set broken": lambda shop, amp, ids: (
        shelf_edit.make_set(shop, item_ids=ids[:2]),
        spares.spares_for(shop, socket_id=amp.id("V3")),
        shelf_moves.sell(shop, item_id=ids[0]),
    ),
    "promised": lambda shop, amp, ids: spares.promise(shop, item_id=ids[0], socket_id=amp.id("V3")),
    "installed": lambda shop, amp, ids: spares.install(shop, item_id=ids[0], socket_id=amp.id("V3")),
    "a reading in a set": lambda shop, amp, ids: amp.enter("V4", "3300", confirmed=True),
    "a lot counted": lambda shop, amp, ids: shelfwork.lot(shop, "6BQ5", quantity=4),
    "nothing": lambda shop, amp, ids: None,
}


@pytest.fixture
def amp(shop: Shop) -> Bench:
    """An amplifier whose output tubes go, which are also matched."""
    made = amplifier(shop)
    for position in _SOCKETS:
        made.found(position)
        bench.set_action(shop, socket_id=made.id(position), action=Action.REPLACE)
    return made


@pytest.fixture
def stocked(shop: Shop, amp: Bench) -> list[int]:
    """Three output tubes of which two are read, one lot."""
    ids = [shelfwork.tube(shop, "6BQ5", condition=Condition.USED_TESTED, price=n) for n in (900, 800, 700)]
    shelfwork.read(shop, amp.tester, ids[0], "11000")
    shelfwork.read(shop, amp.tester, ids[1], "9500")
    shelfwork.lot(shop, "12AX7", quantity=2)
    return ids


def _offered(shop: Shop, amp: Bench) -> tuple[object, ...]:
    ranked = [spares.spares_for(shop, socket_id=amp.id(position)) for position in _SOCKETS]
    counted = [spares.best_spares(shop, socket_id=amp.id(p), most=_MOST) for p in _SOCKETS]
    assert [(r[:_MOST], len(r)) for r in ranked] == counted
    named = [Bench(shop, amp.number, amp.tester).at(position).spare for position in _SOCKETS]
    return ranked, named


@pytest.mark.parametrize("what", _STEPS)
def test_kept_up_with_an_act_and_with_taking_it_back(
    shop: Shop, amp: Bench, stocked: list[int], what: str
) -> None:
    before = _offered(shop, amp)
    assert before == _offered(Shop(shop.record), amp)
    _STEPS[what](shop, amp, stocked)
    assert _offered(shop, amp) == _offered(Shop(shop.record), amp)
    if what != "nothing":
        undo.take_back(shop)
        assert _offered(shop, amp) == _offered(Shop(shop.record), amp)


def test_another_bench_is_seen(shop: Shop, amp: Bench, stocked: list[int]) -> None:
    first = spares.spares_for(shop, socket_id=amp.id("V3"))[0]
    shelf_moves.sell(Shop(shop.record), item_id=first.item_id)
    left: tuple[SpareView, ...] = spares.spares_for(shop, socket_id=amp.id("V3"))
    assert first.item_id not in {view.item_id for view in left}
