"""Tables from other programs' files: encodings, delimiters, ragged rows, and files that are no table."""

from pathlib import Path

import pytest

from tubeshelf.domain.errors import UserError
from tubeshelf.exchange import tables
from tubeshelf.exchange.tables import read_table


def written(tmp_path: Path, content: bytes) -> Path:
    path = tmp_path / "list.csv"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_a_table_is_read_in_any_usual_encoding_and_with_any_delimiter(
    tmp_path: Path, encoding: str, delimiter: str
) -> None:
    text = "Type,Note\r\n12AX7, Röhre µ \r\n,".replace(",", delimiter)
    table = read_table(written(tmp_path, text.encode(encoding)))
    assert table.columns == ("type", "note")
    assert [(row.line, dict(row.cells), row.extra) for row in table.rows] == [
        (2, {"type": "12AX7", "note": "Röhre µ"}, 0)
    ]


def test_a_cell_with_a_line_break_does_not_shift_the_lines_behind_it(tmp_path: Path) -> None:
    table = read_table(written(tmp_path, b'type,note\n12AX7,"two\nlines"\n12AU7,x,,y\n'))
    assert [(row.line, row.extra) for row in table.rows] == [(3, 0), (4, 1)]
    assert table.rows[0].cells["note"] == "two\nlines"


def test_a_row_that_is_too_short_has_fewer_cells(tmp_path: Path) -> None:
    (row,) = read_table(written(tmp_path, b"type,note\n12AX7\n")).rows
    assert row.cells == {"type": "12AX7"}


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "list.csv is empty: its first line has to name the columns."),
        (b"\n;;\n", "list.csv is empty: its first line has to name the columns."),
        (b"a,b,A\n1,2,3\n", "list.csv has the column 'a' twice: keep one of them."),
        (b'a,b\n1,"2\n', "list.csv, line 2: unexpected end of data."),
        (b"PK\x03\x04rest", "list.csv is a spreadsheet or an archive: save it as CSV first."),
        (b"a,b\n1,\x00\n", "list.csv is no text: save the table as CSV in UTF-8."),
    ],
)
def test_what_is_no_table_is_told_in_one_sentence(tmp_path: Path, content: bytes, sentence: str) -> None:
    with pytest.raises(UserError) as caught:
        read_table(written(tmp_path, content))
    assert caught.value.sentence == sentence


def test_a_million_columns_are_refused(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="1,000,000 columns in its first line"):
        read_table(written(tmp_path, ",".join(map(str, range(1_000_000))).encode()))


def test_a_huge_file_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.truncate(2 * 1024**3)  # a sparse file: no such disk space is used
    with pytest.raises(UserError, match=r"huge\.csv has 2,147 MB"):
        read_table(path)
    assert path.stat().st_size > tables.LARGEST


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="cannot be read: No such file"):
        read_table(tmp_path / "nothing.csv")
