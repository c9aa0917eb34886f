"""Random work on the shelf, with taking back, against a plain model that only counts."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing
from copy import deepcopy
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from tests.records import FixedClock, emptied
from tests.services.benchwork import amplifier
from tests.services.shelfwork import cached_on_shelf, item, moved_to_shelf
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.errors import UserError
from tubeshelf.services.shelf_moves import count_lot, move, receive, scrap, tag_from_lot
from tubeshelf.services.shelf_search import counts, search
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.services.spares import promise, release
from tubeshelf.services.undo import take_back

BINS = st.sampled_from(["C1", "C2", "C3"])
SOME = st.integers(1, 4)


@dataclass
class Pile:
    """What the model knows of a tube or lot."""

    quantity: int
    bin: str
    lot: bool
    promised: int = 0

    @property
    def free(self) -> int:
        return self.quantity - self.promised


@dataclass
class ShelfModel:
    piles: dict[int, Pile] = field(default_factory=dict)


class ShelfMachine(RuleBasedStateMachine):
    def __init__(self, shop: Shop) -> None:
        super().__init__()
        self.shop = shop
        self.model = ShelfModel()
        self.past: list[ShelfModel] = []

    @initialize()
    def take_in_a_job(self) -> None:
        self.job_id = amplifier(self.shop).job().id

    def remember(self) -> None:
        self.past.append(deepcopy(self.model))

    def choose(self, data: st.DataObject) -> tuple[int, Pile]:
        item_id = data.draw(st.sampled_from(sorted(self.model.piles)))
        return item_id, self.model.piles[item_id]

    def attempt(self, allowed: bool, act: Callable[[], object]) -> bool:
        """Do an act, which has to be refused where the model does not allow it."""
        if not allowed:
            with pytest.raises(UserError):
                act()
            return False
        act()
        return True

    some_piles = precondition(lambda self: self.model.piles)

    @rule(n=SOME, bin=BINS, lot=st.booleans())
    def receive_some(self, n: int, bin: str, lot: bool) -> None:
        self.remember()
        ids, _ = receive(self.shop, type_name="12AX7", quantity=n, bin=bin, lot=lot)
        for item_id in ids:
            self.model.piles[item_id] = Pile(n if lot else 1, bin, lot)

    @some_piles
    @rule(data=st.data(), bin=BINS, n=SOME)
    def move_some(self, data: st.DataObject, bin: str, n: int) -> None:
        item_id, pile = self.choose(data)
        whole = n == pile.quantity
        before = deepcopy(self.model)
        try:
            moved, _ = move(self.shop, item_id=item_id, bin=bin, quantity=n)
        except UserError:
            assert pile.bin == bin or n > pile.quantity or (not whole and n > pile.free)
            return
        assert pile.bin != bin
        assert whole or n <= pile.free
        self.past.append(before)
        if whole:
            pile.bin = bin
        else:
            pile.quantity -= n
            self.model.piles[moved] = Pile(n, bin, True)

    @some_piles
    @rule(data=st.data(), n=SOME)
    def tag_some(self, data: st.DataObject, n: int) -> None:
        item_id, pile = self.choose(data)
        before = deepcopy(self.model)
        try:
            ids, _ = tag_from_lot(self.shop, item_id=item_id, quantity=n)
        except UserError:
            assert not pile.lot or n > pile.free
            return
        assert pile.lot
        self.past.append(before)
        pile.quantity -= n
        for new_id in ids:
            self.model.piles[new_id] = Pile(1, pile.bin, False)

    @some_piles
    @rule(data=st.data(), n=SOME)
    def scrap_some(self, data: st.DataObject, n: int) -> None:
        item_id, pile = self.choose(data)
        before = deepcopy(self.model)
        act = lambda: scrap(self.shop, item_id=item_id, reason="short", quantity=n)  # noqa: E731
        if self.attempt(n <= pile.free, act):
            self.past.append(before)
            pile.quantity -= n

    @some_piles
    @rule(data=st.data(), n=st.integers(0, 5))
    def count_some(self, data: st.DataObject, n: int) -> None:
        item_id, pile = self.choose(data)
        before = deepcopy(self.model)
        allowed = n >= pile.promised and (pile.lot or (n <= 1 and pile.quantity > 0))
        if self.attempt(allowed, lambda: count_lot(self.shop, item_id=item_id, counted=n)):
            # A count that finds what is written changes nothing, so that it is no step to take back.
            if n != pile.quantity:
                self.past.append(before)
            pile.quantity = n

    @some_piles
    @rule(data=st.data(), n=SOME)
    def promise_some(self, data: st.DataObject, n: int) -> None:
        item_id, pile = self.choose(data)
        before = deepcopy(self.model)
        act = lambda: promise(self.shop, item_id=item_id, job_id=self.job_id, quantity=n)  # noqa: E731
        if self.attempt(n <= pile.free, act):
            self.past.append(before)
            pile.promised += n

    @some_piles
    @rule(data=st.data())
    def release_all(self, data: st.DataObject) -> None:
        item_id, pile = self.choose(data)
        before = deepcopy(self.model)
        act = lambda: release(self.shop, item_id=item_id, job_id=self.job_id)  # noqa: E731
        if self.attempt(pile.promised > 0, act):
            self.past.append(before)
            pile.promised = 0

    @precondition(lambda self: self.past)
    @rule()
    def take_the_last_act_back(self) -> None:
        take_back(self.shop)
        self.model = self.past.pop()

    @invariant()
    def movements_and_cache_and_model_agree(self) -> None:
        here = {item_id: pile.quantity for item_id, pile in self.model.piles.items() if pile.quantity}
        assert moved_to_shelf(self.shop) == here
        assert cached_on_shelf(self.shop) == here

    @invariant()
    def the_shelf_shows_what_the_model_knows(self) -> None:
        view = search(self.shop)
        shown = {row.id: (row.quantity, row.bin, row.lot, row.promised) for row in view.rows}
        piles = {item_id: pile for item_id, pile in self.model.piles.items() if pile.quantity}
        assert shown == {i: (p.quantity, p.bin, p.lot, p.promised) for i, p in piles.items()}
        on_hand = sum(pile.quantity for pile in piles.values())
        promised = sum(pile.promised for pile in piles.values())
        assert (view.tubes, view.promised) == (on_hand, promised)
        (count,) = counts(self.shop) or (None,)
        if count is None:
            assert on_hand == 0
        else:
            assert (count.on_hand, count.promised, count.free) == (on_hand, promised, on_hand - promised)
        for item_id, pile in piles.items():
            assert item(self.shop, item_id).bin == pile.bin


@pytest.fixture
def file_shops(empty_file: Path, tmp_path: Path) -> Iterator[Callable[[], Shop]]:
    """Fresh shops in files."""
    with ExitStack() as opened:

        def fresh() -> Shop:
            opened.close()
            path = tmp_path / "shop.tubeshelf"
            for left in tmp_path.iterdir():
                left.unlink()
            shutil.copyfile(empty_file, path)
            return open_shop(opened.enter_context(closing(open_record(str(path), clock=FixedClock()))))

        yield fresh


@pytest.fixture
def server_shops(database: str) -> Iterator[Callable[[], Shop]]:
    """Fresh shops on a server."""
    with ExitStack() as opened:

        def fresh() -> Shop:
            opened.close()
            record = open_record(emptied(database), clock=FixedClock())
            return open_shop(opened.enter_context(closing(record)))

        yield fresh


CHECKS = list(HealthCheck)


def test_work_on_the_shelf_in_a_file(file_shops: Callable[[], Shop]) -> None:
    machine = lambda: ShelfMachine(file_shops())  # noqa: E731
    few = settings(max_examples=12, stateful_step_count=15, deadline=None, suppress_health_check=CHECKS)
    run_state_machine_as_test(machine, settings=few)  # type: ignore[arg-type]


def test_work_on_the_shelf_on_a_server(server_shops: Callable[[], Shop]) -> None:
    machine = lambda: ShelfMachine(server_shops())  # noqa: E731
    few = settings(max_examples=4, stateful_step_count=12, deadline=None, suppress_health_check=CHECKS)
    run_state_machine_as_test(machine, settings=few)  # type: ignore[arg-type]
