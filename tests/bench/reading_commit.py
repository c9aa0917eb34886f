"""The service call that takes one reading, against bare sqlite3 inserting and committing the same rows."""

import tempfile
from contextlib import closing
from itertools import cycle
from pathlib import Path

from tests.bench.act_commit import BareActs, bare_connection
from tests.bench.figure import Figure, ratio, timed
from tests.records import FixedClock
from tests.services.benchwork import Bench, amplifier
from tests.store.rows import reading_place
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.judging import Stage
from tubeshelf.services.bench import record_reading
from tubeshelf.services.shop import open_shop

ROUNDS = 300


def run() -> Figure:
    """The ratio, over turns in two records.

    Each tube is read three times, as at the bench, where at most three repeats are asked for.
    """
    with tempfile.TemporaryDirectory() as folder:
        with closing(open_record(f"{folder}/bare.tubeshelf", clock=FixedClock())) as record:
            place = reading_place(record)
        with (
            closing(open_record(f"{folder}/shop.tubeshelf", clock=FixedClock())) as record,
            closing(bare_connection(Path(folder) / "bare.tubeshelf")) as bare,
        ):
            sets = [amplifier(open_shop(record), serial=str(n)) for n in range(ROUNDS // 3)]
            entries = Entries(sets)
            figure = ratio(timed(entries), timed(BareActs(bare, place)), rounds=ROUNDS)
    return Figure("reading_commit", figure, "ratio", 4.0, "bare sqlite3, same rows, same pragmas")


class Entries:
    """Each call takes one reading of an output tube, going on to the next set after three."""

    def __init__(self, sets: list[Bench]) -> None:
        self._shop = sets[0].shop
        self._tester = sets[0].tester
        places = []
        for one in sets:
            one.found("V3")
            one.enter("V3", "9000")
            places.append((one.id("V3"), one.line("V3").line_id))
        self._turns = cycle(place for place in places for _ in range(3))

    def __call__(self) -> None:
        socket_id, line_id = next(self._turns)
        record_reading(
            self._shop,
            socket_id=socket_id,
            line_id=line_id,
            tester_id=self._tester,
            stage=Stage.AS_FOUND,
            text="9100",
        )
