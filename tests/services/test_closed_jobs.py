"""Nothing is entered in a closed job: the refusal names how to open it again, and then it is entered."""

from collections.abc import Callable

import pytest

from tests.services.benchwork import Bench, amplifier
from tests.services.shelfwork import tube
from tubeshelf.domain.comeback import SameTube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, Answer, Disposition, JobStatus
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.domain.set_fields import PROPOSED
from tubeshelf.services import answers, aside, bench, comeback, cover, decide, finding, pulls, spares
from tubeshelf.services.intake_edit import set_modified
from tubeshelf.services.set_fields import save_set_fields, set_fields
from tubeshelf.services.set_values import set_value
from tubeshelf.services.shop import Shop

ENTRIES: dict[str, Callable[[Bench, int, int], object]] = {
    "reading": lambda amp, reading, mark: amp.enter("V1", "1540"),
    "reading as left": lambda amp, reading, mark: amp.enter("V2", "1480", stage=Stage.AS_LEFT),
    "reading struck": lambda amp, reading, mark: bench.drop_reading(amp.shop, reading_id=reading),
    "mark": lambda amp, reading, mark: amp.mark("V1", Mark.SHORT),
    "mark struck": lambda amp, reading, mark: bench.drop_observation(amp.shop, observation_id=mark),
    "found": lambda amp, reading, mark: amp.found("V4"),
    "found another": lambda amp, reading, mark: amp.found("V1", "12AU7"),
    "empty": lambda amp, reading, mark: finding.set_empty(amp.shop, socket_id=amp.id("V4")),
    "unreadable": lambda amp, reading, mark: finding.set_unreadable(amp.shop, socket_id=amp.id("V4")),
    "not looked": lambda amp, reading, mark: finding.set_not_looked(amp.shop, socket_id=amp.id("V1")),
    "action": lambda amp, reading, mark: bench.set_action(
        amp.shop, socket_id=amp.id("V1"), action=Action.REPLACE
    ),
    "disposition": lambda amp, reading, mark: bench.set_disposition(
        amp.shop, socket_id=amp.id("V1"), disposition=Disposition.REFITTED
    ),
    "answer": lambda amp, reading, mark: answers.set_answer(
        amp.shop, socket_id=amp.id("V1"), answer=Answer.AGREED
    ),
    "take out": lambda amp, reading, mark: spares.take_out(amp.shop, socket_id=amp.id("V2")),
    "same tube": lambda amp, reading, mark: comeback.set_same(
        amp.shop, socket_id=amp.id("V1"), answer=SameTube.YES
    ),
    "cover": lambda amp, reading, mark: cover.set_cover(
        amp.shop, job_id=amp.job().id, covered=True, why="our tube failed"
    ),
    "pull": lambda amp, reading, mark: pulls.pull(amp.shop, socket_id=amp.id("V1")),
    "modified": lambda amp, reading, mark: set_modified(amp.shop, socket_id=amp.id("V1"), type_name="12AU7"),
    "put aside": lambda amp, reading, mark: aside.put_aside(amp.shop, job_id=amp.job().id, positions=("V1",)),
    "tubes back": lambda amp, reading, mark: aside.end_aside(amp.shop, job_id=amp.job().id),
    "measured in the set": lambda amp, reading, mark: value_measured(amp),
}


def value_measured(amp: Bench) -> None:
    job = amp.job()
    assert job.model_id is not None
    field_id = set_fields(amp.shop, model_id=job.model_id)[0].id
    assert field_id is not None
    set_value(amp.shop, job_id=job.id, field_id=field_id, text="118")


@pytest.mark.parametrize("what", ENTRIES)
@pytest.mark.parametrize("status", [JobStatus.FINISHED, JobStatus.HANDED_BACK])
def test_a_closed_job_refuses_and_says_how_to_open_it(file_shop: Shop, what: str, status: JobStatus) -> None:
    shop = file_shop
    amp = amplifier(shop)
    amp.found("V1")
    taken, _ = amp.enter("V1", "1510")
    mark = amp.mark("V1", Mark.NOISE, fault=False)
    amp.found("V2", "12AU7")
    spares.install(shop, item_id=tube(shop), socket_id=amp.id("V2"))
    aside.put_aside(shop, job_id=amp.job().id, positions=("V3",))
    model_id = amp.job().model_id
    assert model_id is not None
    save_set_fields(shop, model_id=model_id, fields=tuple(PROPOSED))
    decide.set_status(shop, job_id=amp.job().id, status=status)
    before = amp.job()
    assert taken.reading_id is not None
    with pytest.raises(UserError, match=r"Job 1 is closed: set its status .*to an open one"):
        ENTRIES[what](amp, taken.reading_id, mark)
    assert amp.job() == before
    decide.set_status(shop, job_id=amp.job().id, status=JobStatus.RETUBING)
    ENTRIES[what](amp, taken.reading_id, mark)
