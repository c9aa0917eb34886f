"""A comeback: what was left beside what is found, the same tube or not, within the term, covered or not."""

from datetime import date, timedelta

import pytest

from tests.records import FixedClock
from tests.services.benchwork import Bench, amplifier
from tests.services.shelfwork import read, tube
from tubeshelf.domain.comeback import SameTube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Disposition, JobStatus
from tubeshelf.domain.judging import Stage
from tubeshelf.services import bench, decide, finding, intake, papers, spares, undo
from tubeshelf.services.comeback import comeback, read_tag, set_same
from tubeshelf.services.cover import cover_of, set_cover
from tubeshelf.services.shop import Shop, ShopSettings, save_settings
from tubeshelf.services.views.comeback import ComebackView, PlaceView, StoodView
from tubeshelf.store.tables import Job as JobRow


@pytest.fixture
def first(shop: Shop) -> Bench:
    """A job handed back on 2 March: V1 refitted, V2 got tag 0001, V3 read as left, V4 empty, V5 left so."""
    save_settings(shop, settings=ShopSettings(warranty="Ninety days on our tubes.", warranty_days=90))
    amp = amplifier(shop)
    amp.found("V1")
    amp.enter("V1", "1540")
    amp.enter("V1", "1510", 1)
    bench.set_disposition(shop, socket_id=amp.id("V1"), disposition=Disposition.REFITTED)
    amp.found("V2", "12AU7")
    spare = tube(shop)
    read(shop, amp.tester, spare, "1480", "1390")
    spares.install(shop, item_id=spare, socket_id=amp.id("V2"))
    amp.found("V3")
    amp.enter("V3", "9900")
    amp.enter("V3", "9800", stage=Stage.AS_LEFT)
    finding.set_empty(shop, socket_id=amp.id("V4"))
    amp.found("V5")
    bench.set_disposition(shop, socket_id=amp.id("V5"), disposition=Disposition.EMPTY_ON_PURPOSE)
    decide.set_status(shop, job_id=amp.job().id, status=JobStatus.HANDED_BACK)
    return amp


def again(shop: Shop, clock: FixedClock, days: int = 30) -> Bench:
    """The same set, brought back after so many days."""
    clock.advance(timedelta(days=days))
    number, _ = intake.new_job(
        shop, customer="Ada Brindle", maker="Larkmere", model="A12", serial="30417", complaint="dead"
    )
    return Bench(shop, number, 1)


def seen(shop: Shop, amp: Bench) -> ComebackView:
    return comeback(shop, job_id=amp.job().id)


def places(shop: Shop, amp: Bench) -> dict[str, PlaceView]:
    return {place.position: place for place in seen(shop, amp).places}


def test_each_place_says_what_was_left_and_what_is_found(shop: Shop, first: Bench, clock: FixedClock) -> None:
    second = again(shop, clock)
    second.found("V1")
    second.enter("V1", "700", confirmed=True)
    at = places(shop, second)
    assert at["V1"].left == StoodView("12AX7", "", "refitted", "1,540 · 1,510", "good, transconductance")
    assert at["V1"].now is not None
    assert (at["V1"].now.name, at["V1"].now.reads) == ("12AX7", "700")
    assert at["V2"].left == StoodView("12AX7", "0001", "put in", "1,480 · 1,390", "good")
    assert at["V2"].now is None
    # Read as left it counts with that reading, not with the one as found.
    assert at["V3"].left == StoodView("6BQ5", "", "kept", "9,800", "good, transconductance")
    assert at["V4"].left is None
    assert at["V5"].left is None


def test_it_stands_beside_the_job_it_names_else_the_last(shop: Shop, first: Bench, clock: FixedClock) -> None:
    second = again(shop, clock)
    decide.set_status(shop, job_id=second.job().id, status=JobStatus.HANDED_BACK)
    third = again(shop, clock)
    view = seen(shop, third)
    assert view.earlier.number == second.number
    assert [one.number for one in view.choices] == [second.number, first.number]
    assert comeback(shop, job_id=third.job().id, earlier_id=first.job().id).earlier.number == first.number
    named, _ = intake.new_job(
        shop,
        customer="Ada Brindle",
        maker="Larkmere",
        model="A12",
        serial="30417",
        comeback_of=first.job().id,
    )
    assert seen(shop, Bench(shop, named, 1)).earlier.number == first.number


@pytest.mark.parametrize(("days", "within"), [(90, True), (91, False)])
def test_the_term_counts_from_the_closing_day_of_the_earlier_job(
    shop: Shop, first: Bench, clock: FixedClock, days: int, within: bool
) -> None:
    view = seen(shop, again(shop, clock, days))
    assert view.until == date(2026, 5, 31)
    assert view.within is within
    assert view.promise == "Ninety days on our tubes."
    assert view.term.startswith("Within the term" if within else "Out of the term")


def test_without_a_term_nothing_is_within_or_out_of_it(shop: Shop, first: Bench, clock: FixedClock) -> None:
    save_settings(shop, settings=ShopSettings())
    decide.set_status(shop, job_id=first.job().id, status=JobStatus.HANDED_BACK)
    view = seen(shop, again(shop, clock))
    assert (view.until, view.within, view.promise) == (None, None, "")
    assert view.term == "No term was set. Job 1 was closed on 2 Mar 2026."


def test_what_was_promised_at_the_closing_holds_whatever_the_settings_say_later(
    shop: Shop, first: Bench, clock: FixedClock
) -> None:
    save_settings(shop, settings=ShopSettings(warranty="A fortnight.", warranty_days=14))
    view = seen(shop, again(shop, clock))
    assert (view.promise, view.until, view.within) == ("Ninety days on our tubes.", date(2026, 5, 31), True)
    assert papers.statement(shop, job_id=first.job().id).warranty == "Ninety days on our tubes."
    assert papers.statement(shop, job_id=view.job_id).warranty == "A fortnight.", "still open"
    undo.take_back(shop)  # the comeback
    undo.take_back(shop)  # the closing; settings are not taken back
    assert papers.statement(shop, job_id=first.job().id).warranty == "A fortnight."


def test_a_job_closed_before_promises_were_kept_says_that_the_term_is_of_today(
    shop: Shop, first: Bench, clock: FixedClock
) -> None:
    with shop.record.act("as an older program closed it") as journal:
        journal.update(JobRow, first.job().id, warranty=None, warranty_days=None)
    view = seen(shop, again(shop, clock))
    assert view.promise == (
        "What job 1 promised was not written down; this is by the settings of today."
        " Ninety days on our tubes."
    )
    assert view.within is True


def test_a_closed_job_alone_says_what_it_left_and_whether_the_term_still_runs(
    shop: Shop, first: Bench, clock: FixedClock
) -> None:
    clock.advance(timedelta(days=10))
    view = seen(shop, first)
    assert view.alone
    assert view.within is True
    assert "with 80 days left" in view.term
    assert view.places[1].left is not None
    assert view.places[1].now is None


def test_a_unit_that_was_not_here_before_has_nothing_beside_it(shop: Shop) -> None:
    with pytest.raises(UserError, match="was not here before"):
        seen(shop, amplifier(shop))
    number, _ = intake.new_job(shop, customer="Ada Brindle", title="loose", complement="1 x 12AX7")
    with pytest.raises(UserError, match="was not here before"):
        seen(shop, Bench(shop, number, 1))


def test_another_type_or_none_is_proposed_as_not_the_same_and_a_like_one_proves_nothing(
    shop: Shop, first: Bench, clock: FixedClock
) -> None:
    second = again(shop, clock)
    second.found("V1")
    second.found("V2", "12AU7")
    finding.set_empty(shop, socket_id=second.id("V3"))
    at = places(shop, second)
    assert (at["V1"].proposed, at["V1"].why) == (None, "")
    assert (at["V2"].proposed, at["V2"].why) == (SameTube.NO, "a 12AU7 stands there now")
    assert (at["V3"].proposed, at["V3"].why) == (SameTube.NO, "empty now")
    assert (at["V4"].proposed, at["V5"].proposed) == (None, None)


def test_a_like_tube_is_taken_for_the_one_left_until_somebody_says_it_is_another(
    shop: Shop, first: Bench, clock: FixedClock
) -> None:
    second = again(shop, clock)
    assert not places(shop, second)["V2"].taken_for_it
    second.found("V2")
    assert places(shop, second)["V2"].taken_for_it
    finding.set_found(shop, socket_id=second.id("V2"), text="12AX7", another=True)
    assert not places(shop, second)["V2"].taken_for_it


def test_the_tag_that_is_read_answers(shop: Shop, first: Bench, clock: FixedClock) -> None:
    second = again(shop, clock)
    socket_id = second.id("V2")
    answer, changes = read_tag(shop, socket_id=socket_id, left_tag="0001", text="T0001")
    assert answer is SameTube.YES
    assert changes.said == "V2 of job 2, same tube as left: yes"
    assert (places(shop, second)["V2"].answer, places(shop, second)["V2"].note) == (
        SameTube.YES,
        "tag 0001 read",
    )
    answer, _ = read_tag(shop, socket_id=socket_id, left_tag="0001", text="17")
    assert answer is SameTube.NO
    assert places(shop, second)["V2"].note == "tag 0017 read"
    with pytest.raises(UserError, match="is no tag"):
        read_tag(shop, socket_id=socket_id, left_tag="0001", text="12AX7")


def test_what_is_said_of_a_tube_is_taken_back(shop: Shop, first: Bench, clock: FixedClock) -> None:
    second = again(shop, clock)
    set_same(shop, socket_id=second.id("V1"), answer=SameTube.CANT_TELL, note="no tag on it")
    set_same(shop, socket_id=second.id("V1"), answer=None)
    assert places(shop, second)["V1"].answer is None
    undo.take_back(shop)
    assert places(shop, second)["V1"].answer is SameTube.CANT_TELL
    assert places(shop, second)["V1"].note == "no tag on it"


def test_the_cover_names_why_and_makes_the_job_a_comeback(
    shop: Shop, first: Bench, clock: FixedClock
) -> None:
    second = again(shop, clock)
    job_id = second.job().id
    with pytest.raises(UserError, match="Type why"):
        set_cover(shop, job_id=job_id, covered=True, why=" ", earlier_id=first.job().id)
    assert cover_of(shop, job_id=job_id) is None
    set_cover(shop, job_id=job_id, covered=True, why="our tube  failed", earlier_id=first.job().id)
    cover = seen(shop, second).cover
    assert cover is not None
    assert (cover.covered, cover.why) == (True, "our tube failed")
    assert second.job().comeback_of == first.number
    assert "Covered: our tube failed" in papers.statement(shop, job_id=job_id).notes
    set_cover(shop, job_id=job_id, covered=False, why="another tube stands there")
    cover = cover_of(shop, job_id=job_id)
    assert cover is not None
    assert cover.covered is False
    undo.take_back(shop)
    undo.take_back(shop)
    assert cover_of(shop, job_id=job_id) is None
    assert second.job().comeback_of is None
