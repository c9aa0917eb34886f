"""What is measured in sets of a model, named on the Jobs page by keys; values with the job and on paper."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import JobsDriver, amplifier, open_jobs
from tubeshelf.domain.cautions import MEASURING
from tubeshelf.domain.set_fields import PROPOSED, Quantity, SetField
from tubeshelf.services.intake import new_job
from tubeshelf.services.set_fields import save_set_fields, set_fields
from tubeshelf.services.set_values import measured_in, set_value
from tubeshelf.services.undo import take_back
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.jobs_set_fields import SetFieldsSheet
from tubeshelf.ui.parts.buttons import IconButton


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    return open_jobs(file_record, qtbot, shown, settings)


def model_of(jobs: JobsDriver, number: int) -> int:
    model_id = jobs.job(number).model_id
    assert model_id is not None
    return model_id


def kept(jobs: JobsDriver, number: int) -> list[tuple[str, str, Quantity, bool]]:
    fields = set_fields(jobs.shop, model_id=model_of(jobs, number))
    return [(one.name, one.unit, one.quantity, one.per_socket) for one in fields]


def opened(jobs: JobsDriver) -> tuple[int, SetFieldsSheet]:
    """A job in hand with the sheet open on it."""
    number = amplifier(jobs.shop)
    jobs.page.load()
    jobs.take(number)
    jobs.press("F12")
    return number, jobs.page.sheets.set_fields


def test_what_is_proposed_is_saved_as_it_stands(jobs: JobsDriver) -> None:
    number, sheet = opened(jobs)
    assert jobs.on_field == "Name"
    text = jobs.texts(sheet)
    assert "These are proposed" in text
    assert MEASURING in text
    jobs.press("Ctrl+Return")
    assert jobs.page.sheets.entry is None
    assert kept(jobs, number) == [(f.name, f.unit, f.quantity, f.per_socket) for f in PROPOSED]
    jobs.press("F12")
    assert "These are proposed" not in jobs.texts(sheet)
    assert [card.name.text() for card in sheet.cards] == [f.name for f in PROPOSED]


def test_fields_are_named_added_moved_and_removed_by_keys(jobs: JobsDriver) -> None:
    number, sheet = opened(jobs)
    jobs.press("Ctrl+Shift+N")
    jobs.write("Hum at the speaker")
    jobs.press("Tab")
    jobs.write("mV")
    jobs.press("Alt+Up", 5)
    assert [card.name.text() for card in sheet.cards][:2] == ["Hum at the speaker", "Line"]
    assert jobs.on_field == "Unit"
    jobs.press("Tab")
    assert jobs.on_field == "Remove this field"
    for _ in range(2):
        remove = sheet.cards[-1].findChild(IconButton)
        assert remove is not None
        remove.setFocus()
        jobs.press("Space")
    assert jobs.focus is sheet.cards[-1].name
    jobs.press("Ctrl+Return")
    names = [name for name, *_ in kept(jobs, number)]
    assert names == ["Hum at the speaker", "Line", "B+", "Bias"]
    assert kept(jobs, number)[0] == ("Hum at the speaker", "mV", Quantity.ANY, False)
    take_back(jobs.shop)
    assert kept(jobs, number) == []


def test_a_quantity_brings_its_unit_and_another_unit_is_refused_beside_it(jobs: JobsDriver) -> None:
    number, sheet = opened(jobs)
    jobs.press("Ctrl+Shift+N")
    card = sheet.cards[-1]
    jobs.write("Plates")
    card.quantity.choose(Quantity.PLATE_MA)
    assert card.unit.text() == "mA"
    jobs.fill(card.unit, "A")
    jobs.press("Ctrl+Return")
    assert jobs.errors(sheet) == ["mA here"]
    assert jobs.focus is card.unit
    assert kept(jobs, number) == []
    jobs.fill(card.unit, "mA")
    card.per_socket.setChecked(True)
    jobs.press("Ctrl+Return")
    assert kept(jobs, number)[-1] == ("Plates", "mA", Quantity.PLATE_MA, True)


def test_a_field_without_a_name_and_one_named_twice_are_refused(jobs: JobsDriver) -> None:
    number, sheet = opened(jobs)
    jobs.press("Ctrl+Shift+N")
    jobs.press("Ctrl+Return")
    assert jobs.errors(sheet) == ["Give the field a name, such as “B+”, or remove it."]
    jobs.fill(sheet.cards[-1].name, "line")
    jobs.press("Ctrl+Return")
    assert sheet.notice.text == "line stands there twice; keep one of the two."
    assert kept(jobs, number) == []


def test_nothing_changed_is_no_act(jobs: JobsDriver) -> None:
    number, _ = opened(jobs)
    jobs.press("Ctrl+Return")
    before = set_fields(jobs.shop, model_id=model_of(jobs, number))
    jobs.press("F12")
    jobs.press("Ctrl+Return")
    assert jobs.page.sheets.entry is None
    assert set_fields(jobs.shop, model_id=model_of(jobs, number)) == before
    assert "What is measured" in take_back(jobs.shop).said
    assert kept(jobs, number) == []


def test_two_fields_change_places(jobs: JobsDriver) -> None:
    number, sheet = opened(jobs)
    jobs.press("Ctrl+Return")
    jobs.press("F12")
    jobs.press("Alt+Down")
    assert jobs.focus is sheet.cards[1].name
    jobs.press("Ctrl+Return")
    assert [name for name, *_ in kept(jobs, number)][:2] == ["B+", "Line"]


def test_a_box_of_loose_tubes_has_none(jobs: JobsDriver) -> None:
    number, _ = new_job(jobs.shop, customer="Ada", title="shoebox", complement="V1 output 6BQ5")
    jobs.page.load()
    jobs.take(number)
    jobs.press("F12")
    assert jobs.page.sheets.entry is None


def measured(jobs: JobsDriver) -> int:
    """A job with line, B+ and one cathode current measured, too high for its tube."""
    number = amplifier(jobs.shop)
    save_set_fields(jobs.shop, model_id=model_of(jobs, number), fields=tuple(PROPOSED))
    job = jobs.job(number)
    view = measured_in(jobs.shop, job_id=job.id)
    for name, text in (("Line", "118.5"), ("B+", "320"), ("Bias", "-11"), ("Cathode current V2", "41")):
        one = next(one for one in view.values if one.name == name)
        set_value(jobs.shop, job_id=job.id, field_id=one.field.id or 0, socket_id=one.socket_id, text=text)
    jobs.page.load()
    jobs.take(number)
    return number


def test_what_was_measured_stands_with_the_job(jobs: JobsDriver) -> None:
    measured(jobs)
    part = jobs.page.sheets.detail.measured
    text = jobs.texts(part)
    assert "118.5 V" in text
    assert "41 mA" in text
    # 41 mA × 320 V = 13.12 W of the 12 W of a 6BQ5 (Philips handbook), and of 14 W with its screen.
    assert "V2 6BQ5: at most 13.1 W of 12 W plate rating, 109 %: over its rating unless" in text
    assert "first with the current limited" in text


def test_a_job_without_values_shows_none(jobs: JobsDriver) -> None:
    opened(jobs)
    jobs.press("Esc")
    assert not jobs.page.sheets.detail.measured.isVisible()


def test_the_statement_has_them_in_a_small_table(jobs: JobsDriver, tmp_path: Path) -> None:
    measured(jobs)
    jobs.press("Ctrl+T")
    text = " ".join(jobs.save_pdf(tmp_path / "statement.pdf").split())
    assert "Measured in the set Value" in text
    assert "Line 118.5 V" in text
    assert "Cathode current V2 41 mA" in text
    assert "at most 13.1 W of 12 W plate rating, 109 %" in text


def test_the_proposal_is_what_the_bench_asks_for(jobs: JobsDriver) -> None:
    number, _ = opened(jobs)
    jobs.press("Ctrl+Return")
    view = measured_in(jobs.shop, job_id=jobs.job(number).id)
    assert [one.name for one in view.values] == [
        "Line",
        "B+",
        "Bias",
        "Cathode current V2",
        "Cathode current V3",
        "Burn-in",
    ]
    assert view.values[3].field == SetField(
        "Cathode current", "mA", Quantity.CATHODE_MA, per_socket=True, id=view.values[3].field.id
    )
