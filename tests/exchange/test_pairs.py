from pathlib import Path

import pytest

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.exchange.pairs import Pair, read_pairs


def written(tmp_path: Path, text: str, encoding: str = "utf-8") -> Path:
    path = tmp_path / "pairs.csv"
    path.write_text(text, encoding=encoding)
    return path


def test_pairs_are_read_with_and_without_a_circuit(tmp_path: Path) -> None:
    path = written(tmp_path, "intended,found,circuit\n12AX7, ECC83 ,\n\n50L6GT,35L6GT,Series\n6V6GT,6L6GC\n")
    assert read_pairs(path) == (
        Pair("12AX7", "ECC83"),
        Pair("50L6GT", "35L6GT", Circuit.SERIES),
        Pair("6V6GT", "6L6GC"),
    )


@pytest.mark.parametrize(
    "text", ["found;intended\nECC83;12AX7\n", "Found\tnote\tIntended\r\nECC83\tx\t12AX7\r\n"]
)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_what_other_programs_save_as_csv_is_read(tmp_path: Path, text: str, encoding: str) -> None:
    assert read_pairs(written(tmp_path, text, encoding)) == (Pair("12AX7", "ECC83"),)


@pytest.mark.parametrize(
    "text",
    [
        "\n \r\nintended;found\r\n12AX7;ECC83\r\n",
        "\ufeff\n;;\nintended;found\n12AX7;ECC83\n",
        "intended,found\n12AX7,ECC83,\n\n,,,\n",
        "intended,found,,\n12AX7,ECC83,, \n",
        "intended,found\r12AX7,ECC83\r",
    ],
)
def test_empty_lines_and_empty_cells_of_a_spreadsheet_are_nothing(tmp_path: Path, text: str) -> None:
    path = tmp_path / "pairs.csv"
    path.write_bytes(text.encode())
    assert read_pairs(path) == (Pair("12AX7", "ECC83"),)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "pairs.csv is empty: its first line has to name the columns."),
        ("intended\n12AX7\n", "pairs.csv needs one column 'found' in its first line."),
        ("intended,found,found\na,b,c\n", "pairs.csv has the column 'found' twice: keep one of them."),
        ("intended,found\n12AX7,ECC83\n12AX7,\n", "pairs.csv, line 3: 'found' is empty."),
        ("intended,found\n12AX7\n", "pairs.csv, line 2: 'found' is empty."),
        ("intended,found\n12AX7,a,b\n", "pairs.csv, line 2: 3 cells where the first line has 2."),
        (
            "intended,found,circuit\n12AX7,ECC83,both\n",
            "pairs.csv, line 2: the circuit 'both' is neither parallel nor series.",
        ),
        ('intended,found\n12AX7,"ECC83\n', "pairs.csv, line 2: unexpected end of data."),
    ],
)
def test_a_bad_row_is_named_by_its_line(tmp_path: Path, text: str, sentence: str) -> None:
    with pytest.raises(UserError) as caught:
        read_pairs(written(tmp_path, text))
    assert caught.value.sentence == sentence


def test_a_file_that_is_no_text_or_not_there_is_told_plainly(tmp_path: Path) -> None:
    path = tmp_path / "pairs.csv"
    path.write_bytes(b"intended,found\n\xff\xfa,\x00")
    with pytest.raises(UserError, match=r"pairs\.csv is no text"):
        read_pairs(path)
    with pytest.raises(UserError, match="cannot be read"):
        read_pairs(tmp_path / "nowhere.csv")
    with pytest.raises(UserError, match="cannot be read"):
        read_pairs(tmp_path)
