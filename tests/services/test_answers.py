"""What the customer said of a socket is kept with when and how, one answer for several sockets in one act."""

from datetime import date, timedelta

import pytest

from tests.records import FixedClock
from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Answer
from tubeshelf.services import answers, undo
from tubeshelf.services.shop import Shop

TODAY = date(2026, 3, 2)


def said(amp: Bench, position: str) -> tuple[Answer | None, str, date | None]:
    socket = amp.at(position)
    return socket.answer, socket.answer_how, socket.answer_on


def test_an_answer_keeps_how_and_when_it_was_given(shop: Shop) -> None:
    amp = amplifier(shop)
    day = date(2026, 2, 27)
    answers.set_answer(shop, socket_id=amp.id("V1"), answer=Answer.AGREED, how="  by   telephone ", on=day)
    assert said(amp, "V1") == (Answer.AGREED, "by telephone", day)
    assert said(amp, "V2") == (None, "", None)


def test_left_out_it_is_today_and_the_way_used_last_in_this_job(shop: Shop, clock: FixedClock) -> None:
    amp, other = amplifier(shop), Bench(shop, amplifier(shop, serial="2").number, 1)
    answers.set_answer(shop, socket_id=amp.id("V1"), answer=Answer.AGREED, how="by letter")
    answers.set_answer(shop, socket_id=other.id("V1"), answer=Answer.AGREED)
    clock.advance(timedelta(days=3))
    answers.set_answer(shop, socket_id=amp.id("V2"), answer=Answer.DECLINED)
    assert said(amp, "V1") == (Answer.AGREED, "by letter", TODAY)
    assert said(amp, "V2") == (Answer.DECLINED, "by letter", TODAY + timedelta(days=3))
    assert said(other, "V1") == (Answer.AGREED, "", TODAY)


def test_the_sheet_begins_with_the_way_used_last_here_else_anywhere(shop: Shop) -> None:
    amp, other = amplifier(shop), Bench(shop, amplifier(shop, serial="2").number, 1)
    assert answers.way_used_last(shop, job_id=amp.job().id) == ""
    answers.set_answer(shop, socket_id=amp.id("V1"), answer=Answer.AGREED, how="by letter")
    answers.set_answer(shop, socket_id=other.id("V1"), answer=Answer.AGREED, how="in person")
    assert answers.way_used_last(shop, job_id=amp.job().id) == "by letter"
    third = amplifier(shop, serial="3")
    assert answers.way_used_last(shop, job_id=third.job().id) == "in person"


def test_a_group_is_answered_in_one_act_and_taken_back_as_one(shop: Shop) -> None:
    amp = amplifier(shop)
    pair = (amp.id("V3"), amp.id("V4"))
    answers.set_answer(shop, socket_id=pair[0], answer=Answer.ASK_AGAIN, how="by letter")
    _, changes = answers.set_answers(shop, socket_ids=pair, answer=Answer.AGREED, how="in person")
    assert changes.said == "V3, V4 of job 1: agreed"
    assert said(amp, "V3") == said(amp, "V4") == (Answer.AGREED, "in person", TODAY)
    undo.take_back(shop)
    assert said(amp, "V3") == (Answer.ASK_AGAIN, "by letter", TODAY)
    assert said(amp, "V4") == (None, "", None)


def test_no_answer_takes_the_answer_away(shop: Shop) -> None:
    amp = amplifier(shop)
    answers.set_answer(shop, socket_id=amp.id("V1"), answer=Answer.AGREED, how="by letter")
    answers.set_answer(shop, socket_id=amp.id("V1"), answer=None)
    assert said(amp, "V1") == (None, "", None)


def test_an_answer_for_no_socket_is_refused(shop: Shop) -> None:
    with pytest.raises(UserError, match="No socket of this job waits for an answer"):
        answers.set_answers(shop, socket_ids=(), answer=Answer.AGREED)
