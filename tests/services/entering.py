"""Enters readings until it is killed, and tells each one that was acknowledged: its number, one a line.

``python -m tests.services.entering RECORD FIRST`` goes on from the number FIRST.
"""

import sys
from contextlib import closing
from itertools import count

from tests.services.benchwork import Bench, amplifier
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.judging import Stage
from tubeshelf.services.bench import record_reading
from tubeshelf.services.jobs import list_jobs, open_job
from tubeshelf.services.shop import Shop, open_shop


def on_the_bench(shop: Shop) -> Bench:
    """The set to enter readings for, taken in at the first start."""
    if not list_jobs(shop):
        amplifier(shop).found("V3")
    (head,) = list_jobs(shop)
    return Bench(shop, head.number, open_job(shop, job_id=head.id).testers[0].id)


def main(where: str, first: int) -> None:
    """Enter readings without end; whatever looks like a slip is confirmed."""
    with closing(open_record(where)) as record:
        amp = on_the_bench(open_shop(record))
        socket_id, line = amp.id("V3"), amp.line("V3")
        for number in count(first):
            record_reading(
                amp.shop,
                socket_id=socket_id,
                line_id=line.line_id,
                section=line.section,
                tester_id=amp.tester,
                stage=Stage.AS_FOUND,
                text=str(number),
                confirmed=True,
            )
            print(number, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
