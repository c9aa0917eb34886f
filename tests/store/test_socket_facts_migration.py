"""Revision 0002: rows from before it have nothing written down, and their lamps stay on their winding."""

from collections.abc import Sequence
from pathlib import Path
from shutil import copytree

import pytest
from sqlalchemy import Engine, text

from tests.records import new_database
from tubeshelf.store.engine import WRITING, file_engine, server_engine
from tubeshelf.store.migrate import SCRIPTS, upgrade

ACT = """INSERT INTO act (id, at, bench, kind, said) VALUES (1, 0, 'bench 1', 'setup', 'Made')"""
ROWS = (
    "INSERT INTO type (id, key, designation) VALUES (1, '6V6GT', '6V6GT')",
    "INSERT INTO model (id, begun_by, version, maker, name, note, search_key)"
    " VALUES (1, 1, 1, 'Tarn', 'Wren 5', '', '')",
    "INSERT INTO heater_circuit (id, begun_by, version, model_id, name, circuit, volts, lamp_a)"
    " VALUES (1, 1, 1, 1, '6.3 V', 'parallel', 6.3, 0.3), (2, 1, 1, 1, 'string', 'series', 117, NULL)",
    "INSERT INTO model_socket (id, begun_by, version, model_id, position, seq, role, match_group,"
    " designed_type_id, heater_circuit_id) VALUES (1, 1, 1, 1, 'V1', 1, 'output', '', 1, 1)",
)


@pytest.fixture
def first(tmp_path: Path) -> Path:
    """The migrations of the first program."""
    scripts = tmp_path / "first"
    copytree(SCRIPTS, scripts)
    for path in (scripts / "versions").glob("r*.py"):
        if not path.name.startswith("r0001"):
            path.unlink()
    return scripts


@pytest.fixture(params=["file", "server"])
def engine(request: pytest.FixtureRequest, tmp_path: Path) -> Engine:
    if request.param == "file":
        return file_engine(tmp_path / "old.tubeshelf", foreign_keys=False)
    return server_engine(new_database(request.getfixturevalue("server"), "facts"))


def rows(engine: Engine, query: str) -> Sequence[object]:
    with engine.connect() as connection:
        return [tuple(row) for row in connection.execute(text(query))]


def test_old_rows_know_nothing_and_keep_their_lamps(engine: Engine, first: Path) -> None:
    upgrade(engine, scripts=first)
    with engine.execution_options(**{WRITING: True}).begin() as connection:
        for statement in (ACT, *ROWS):
            connection.execute(text(statement))
    upgrade(engine)
    facts = "heater_pins, plate_v, screen_v, bias, bias_v, capacitor_v, ties"
    assert rows(engine, f"SELECT position, {facts} FROM model_socket") == [
        ("V1", "", None, None, "", None, None, "")
    ]
    lamps = "SELECT name, lamp_at, lamp_a, lamp_v, lamp_tap_ohm, ballast_a FROM heater_circuit ORDER BY id"
    assert rows(engine, lamps) == [
        ("6.3 V", "winding", 0.3, None, None, None),
        ("string", "", None, None, None, None),
    ]
    engine.dispose()
