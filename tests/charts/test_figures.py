import resource
import subprocess
import sys
from pathlib import Path

import pytest
from matplotlib.artist import Artist
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.text import Text

from tubeshelf.charts.distribution import cells
from tubeshelf.charts.figures import PAPER, distribution_figure, job_figure, save
from tubeshelf.charts.values import ChartLine
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Limit
from tubeshelf.domain.palette import DARK, LIGHT, Palette

LIMIT = Limit(good_from=7000, reject_below=5000, bogey=11300, unit="µmho")
WORDS = ("bad", "doubtful", "good")
LINES = (
    ChartLine("V3 6BQ5", "output, pair", 6000, 9150, LIMIT, "µmho"),
    ChartLine("V4 EL84", "output, pair", 0, None, LIMIT, "µmho"),
    ChartLine("V5 5Y3GT", "rectifier", None, None, LIMIT, "mA"),
    ChartLine("V6 0A2", "regulator", 62, None, None, "V"),
    ChartLine("V7 6E5", "indicator", 2, 3, Limit(good_from=3, reject_below=2), "", WORDS),
)


def marked(figure: Figure, gid: str) -> list[Artist]:
    return [artist for artist in figure.findobj() if artist.get_gid() == gid]


def places(figure: Figure, gid: str) -> list[tuple[float, float]]:
    return [(float(a.get_xdata()[0]), float(a.get_ydata()[0])) for a in marked(figure, gid)]  # type: ignore[attr-defined]


def texts(figure: Figure) -> list[str]:
    return [text.get_text() for text in figure.findobj(Text) if text.get_text()]


def test_each_reading_has_its_marker_within_its_own_limit() -> None:
    figure = job_figure(LINES, LIGHT)
    assert places(figure, "found") == [(1.5, 0), (0.0, 1), (pytest.approx(3 / 1.1), 3), (1.5, 4)]
    (plain, word) = places(figure, "left")
    assert plain == (2.25, 0)
    assert 2 < word[0] < 3


def test_zero_is_a_reading_and_nothing_is_not() -> None:
    figure = job_figure(LINES[1:3], LIGHT)
    shown = texts(figure)
    assert shown.count("not read") == 1
    assert "0" in shown
    assert len(marked(figure, "unread")) == 1


def test_names_values_units_and_limits_are_written_out() -> None:
    shown = texts(job_figure(LINES, LIGHT))
    for expected in ("V3 6BQ5", "output, pair", "6,000", "9,150", "µmho", "5,000", "7,000", "bogey 11,300"):
        assert expected in shown
    for word in ("reject", "weak", "good", "no limit", "doubtful", "as found", "as left"):
        assert word in shown


@pytest.mark.parametrize("palette", [LIGHT, DARK, PAPER])
def test_colours_are_those_of_the_palette(palette: Palette) -> None:
    figure = job_figure(LINES, palette)
    assert to_hex(figure.get_facecolor()) == palette.panel.lower()
    for gid, colour in (
        ("zone:reject", palette.zone_reject),
        ("zone:weak", palette.zone_weak),
        ("zone:good", palette.zone_good),
    ):
        bars = marked(figure, gid)
        assert len(bars) == 3
        assert {to_hex(bar.get_facecolor()) for bar in bars} == {colour.lower()}  # type: ignore[attr-defined]


def test_on_paper_the_zones_differ_in_grey() -> None:
    greys = [int(colour[1:3], 16) for colour in (PAPER.zone_reject, PAPER.zone_weak, PAPER.zone_good)]
    assert greys[1] - greys[0] > 25
    assert greys[2] - greys[1] > 25


def test_a_dollar_in_a_name_is_no_formula(tmp_path: Path) -> None:
    line = ChartLine("V1 $x_2$", "for $5 \\frac", 6000, None, LIMIT, "µmho")
    save(job_figure([line], LIGHT), tmp_path / "job.svg")
    written = (tmp_path / "job.svg").read_text(encoding="utf-8")
    assert ">V1 $x_2$</text>" in written
    assert "µmho" in written


def test_rows_make_the_picture_higher_not_smaller() -> None:
    few, many = job_figure(LINES, LIGHT), job_figure(LINES * 8, LIGHT)
    assert many.get_figheight() - few.get_figheight() == pytest.approx(35 * 0.5)


def test_everything_stays_within_the_picture() -> None:
    long = ChartLine(
        "V17 6BQ5 " + "x" * 60, "a very long role of a socket " * 3, 123456, 123456, LIMIT, "µmho"
    )
    figure = job_figure([long, *LINES], LIGHT)
    width, height = figure.get_size_inches()
    box = figure.get_tightbbox()
    assert box.x0 >= -0.02
    assert box.x1 <= width + 0.02
    assert box.y0 >= -0.02
    assert box.y1 <= height + 0.02


def test_a_job_without_sockets_says_so() -> None:
    assert texts(job_figure([], LIGHT)) == ["This job has no sockets yet: their readings will show here."]


def test_few_tubes_are_dots_at_their_own_values() -> None:
    values = [4990.0, 5010.0, 7000.0, 9000.0, 9001.0]
    figure = distribution_figure(values, limit=LIMIT, unit="µmho", title="Tester B, gm", palette=LIGHT)
    (dots,) = marked(figure, "tubes")
    offsets = dots.get_offsets()  # type: ignore[attr-defined]
    assert sorted(float(x) for x, _ in offsets) == values
    assert len({(float(x), float(y)) for x, y in offsets}) == 5
    shown = texts(figure)
    for expected in (
        "5 tubes",
        "reject below 5,000",
        "good from 7,000",
        "bogey 11,300",
        "Tester B, gm, µmho",
    ):
        assert expected in shown


def test_many_tubes_are_bars_that_count_them_all() -> None:
    values = [6000.0 + 20 * i for i in range(300)]
    figure = distribution_figure(values, limit=LIMIT, unit="µmho", title="gm", palette=LIGHT)
    (bars,) = figure.axes[0].containers
    assert sum(bar.get_height() for bar in bars) == 300
    assert not marked(figure, "tubes")


def test_no_bar_spans_a_limit() -> None:
    width, start = cells(LIMIT, 0, 15000)
    for figure in (5000, 7000):
        steps = (figure - start) / width
        assert steps == pytest.approx(round(steps))


def test_zones_of_a_distribution_meet_at_the_limits() -> None:
    figure = distribution_figure([6000.0], limit=LIMIT, unit="", title="gm", palette=LIGHT)
    edges = {}
    for zone in ("reject", "weak", "good"):
        (span,) = marked(figure, f"zone:{zone}")
        edges[zone] = span.get_x(), span.get_x() + span.get_width()  # type: ignore[attr-defined]
    assert edges["reject"] == (0, 5000)
    assert edges["weak"] == (5000, 7000)
    assert edges["good"][0] == 7000


def test_words_are_columns_of_their_own() -> None:
    figure = distribution_figure(
        [1, 3, 3], limit=Limit(good_from=3, reject_below=2), unit="", title="merit", palette=DARK, words=WORDS
    )
    assert [label.get_text() for label in figure.axes[0].get_xticklabels()] == list(WORDS)
    assert "good from good" in texts(figure)
    (good,) = marked(figure, "zone:good")
    assert good.get_x() == 2.5  # type: ignore[attr-defined]


def test_one_value_no_limit_and_all_zero_make_a_picture() -> None:
    for values in ([0.0], [0.0, 0.0], [-3.0], [5.0]):
        figure = distribution_figure(values, limit=None, unit="V", title="t", palette=LIGHT)
        low, high = figure.axes[0].get_xlim()
        assert low <= min(values) <= max(values) < high


def test_no_reading_says_so() -> None:
    figure = distribution_figure([], limit=LIMIT, unit="", title="gm", palette=LIGHT)
    assert texts(figure) == ["No tube of this type has been read on this line yet."]


@pytest.mark.parametrize("name", ["job.png", "job.svg"])
def test_the_same_picture_gives_the_same_file(tmp_path: Path, name: str) -> None:
    save(job_figure(LINES, LIGHT), tmp_path / name)
    first = (tmp_path / name).read_bytes()
    save(job_figure(LINES, LIGHT), tmp_path / name)
    assert (tmp_path / name).read_bytes() == first


def test_other_endings_and_missing_folders_are_refused_in_a_sentence(tmp_path: Path) -> None:
    figure = job_figure(LINES, LIGHT)
    with pytest.raises(UserError, match=r"end the name in \.png or \.svg"):
        save(figure, tmp_path / "job.gif")
    with pytest.raises(UserError, match="choose another folder"):
        save(figure, tmp_path / "nowhere" / "job.png")


def test_charts_bring_matplotlib_only_when_drawn() -> None:
    program = "import sys, tubeshelf.charts.figures\nprint('matplotlib' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "False"


def test_a_disk_that_takes_no_more_leaves_the_old_picture_whole(tmp_path: Path) -> None:
    path = tmp_path / "job.png"
    path.write_bytes(b"the old picture")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, hard))
    try:
        with pytest.raises(UserError, match="choose another folder"):
            save(job_figure(LINES, LIGHT), path)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert path.read_bytes() == b"the old picture"
    assert [entry.name for entry in tmp_path.iterdir()] == ["job.png"]
