import threading

import pytest
from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from tubeshelf.domain.errors import UserError
from tubeshelf.ui.runner import Cancelled, Runner, Ticket


def test_the_answer_arrives_in_the_gui_thread(qtbot: QtBot) -> None:
    runner = Runner()
    threads: list[int] = []
    got: list[tuple[int, int]] = []

    def work(ticket: Ticket) -> int:
        threads.append(threading.get_ident())
        return 42

    runner.run("Counting", work, lambda n: got.append((n, threading.get_ident())), got.append)
    qtbot.waitUntil(lambda: len(got) == 1)
    assert got == [(42, threading.get_ident())]
    assert threads[0] != threading.get_ident()


def test_progress_is_told_and_then_rest(qtbot: QtBot) -> None:
    runner = Runner()
    busy, idle = QSignalSpy(runner.busy), QSignalSpy(runner.idle)

    def work(ticket: Ticket) -> None:
        for n in range(1, 4):
            ticket.progress(n, 3)

    done: list[None] = []
    runner.run("Reading", work, done.append, pytest.fail)
    qtbot.waitUntil(lambda: idle.count() == 1)
    assert busy.at(busy.count() - 1) == ["Reading", 3, 3]
    assert done == [None]


def test_what_the_user_can_act_on_is_handed_over_as_a_sentence(qtbot: QtBot) -> None:
    def work(ticket: Ticket) -> None:
        raise UserError("The disk is full: make room and save again.")

    failed: list[str] = []
    runner = Runner()
    runner.run("Saving", work, pytest.fail, failed.append)
    qtbot.waitUntil(lambda: failed == ["The disk is full: make room and save again."])


def test_a_bug_in_the_work_is_raised_in_the_gui_thread(qtbot: QtBot) -> None:
    def work(ticket: Ticket) -> None:
        raise ZeroDivisionError("planted")

    runner = Runner()
    idle = QSignalSpy(runner.idle)
    with qtbot.captureExceptions() as caught:
        runner.run("Dividing", work, pytest.fail, pytest.fail)
        qtbot.waitUntil(lambda: idle.count() == 1)
    assert [error[0] for error in caught] == [ZeroDivisionError]


def test_cancelled_work_answers_as_cancelled_and_what_waits_does_not_begin(qtbot: QtBot) -> None:
    runner = Runner()
    begun, stopped = threading.Event(), threading.Event()
    told: list[str] = []

    def long(ticket: Ticket) -> None:
        begun.set()
        stopped.wait(5)
        ticket.progress(1, 2)

    def waiting(ticket: Ticket) -> None:
        told.append("ran")

    runner.run("Long", long, pytest.fail, pytest.fail, lambda: told.append("first"))
    runner.run("Next", waiting, pytest.fail, pytest.fail, lambda: told.append("second"))
    assert begun.wait(5)
    runner.cancel()
    stopped.set()
    qtbot.waitUntil(lambda: len(told) == 2)
    assert told == ["first", "second"]


def test_a_ticket_stops_at_its_next_report() -> None:
    ticket = Ticket(lambda done, total: None)
    ticket.progress(1)
    ticket.cancel()
    with pytest.raises(Cancelled):
        ticket.progress(2)
