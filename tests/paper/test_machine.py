import os
import socket
import struct
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

import pytest

from tubeshelf.domain.errors import UserError
from tubeshelf.paper import machine

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux lacks what Qt needs")


@contextmanager
def x_server(*, lets_in: bool = True) -> Iterator[str]:
    """The name of a display on which a server answers to the opening of the X11 protocol and no more."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        free = listening.getsockname()[1]
        answer = struct.pack("<BBHHH", int(lets_in), 0, 11, 0, 8) + bytes(32)

        def serve() -> None:
            while True:
                try:
                    asking, _ = listening.accept()
                except OSError:  # closed at the end
                    return
                with asking:
                    asking.recv(4096)
                    asking.sendall(answer)

        Thread(target=serve, daemon=True).start()
        yield f"127.0.0.1:{free - 6000}"
        listening.shutdown(socket.SHUT_RDWR)


@pytest.fixture
def display() -> Iterator[str]:
    with x_server() as name:
        yield name


@pytest.fixture
def session(tmp_path: Path) -> Iterator[dict[str, str]]:
    """A Wayland session in which somebody listens."""
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(tmp_path / "wayland-5"))
        listening.listen()
        yield {"XDG_RUNTIME_DIR": str(tmp_path), "WAYLAND_DISPLAY": "wayland-5"}


def test_does_not_import_qt() -> None:
    code = "import sys, tubeshelf.paper.machine; print(any(m.startswith('PySide6') for m in sys.modules))"
    assert (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "False"
    )


@linux
def test_names_the_package_of_a_missing_library(display: str) -> None:
    lacking = machine.missing_libraries(
        {"DISPLAY": display}, lambda name: name not in ("libEGL.so.1", "libxcb-cursor.so.0")
    )
    assert lacking == ["libegl1", "libxcb-cursor0"]


@linux
def test_asks_for_the_libraries_of_the_platform_in_use_only(display: str, session: dict[str, str]) -> None:
    def lacking(environment: dict[str, str]) -> set[str]:
        return set(machine.missing_libraries(environment, lambda name: False))

    assert "libxcb-cursor0" not in lacking({"QT_QPA_PLATFORM": "offscreen", "DISPLAY": display})
    assert "libxcb-cursor0" in lacking({"DISPLAY": display})
    assert "libxcb-cursor0" in lacking({"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"})
    assert "libwayland-client0" in lacking(session)
    assert {"libegl1", "libgl1", "libxkbcommon0"} <= lacking({})


@linux
def test_one_way_to_show_a_window_is_enough(display: str, session: dict[str, str]) -> None:
    """Qt tries the next platform where it cannot load the first."""
    both = session | {"DISPLAY": display}
    assert machine.missing_libraries(both, lambda name: "xcb" not in name) == []
    assert machine.missing_libraries(both, lambda name: "wayland" not in name) == []
    neither = machine.missing_libraries(both, lambda name: "wayland" not in name and "xcb" not in name)
    assert neither == ["libwayland-client0", "libwayland-cursor0"]


@linux
def test_says_what_to_do_without_a_display() -> None:
    with pytest.raises(UserError, match="There is no display") as caught:
        machine.check_display({})
    assert "tubeshelf --help" in caught.value.sentence
    machine.check_display({"QT_QPA_PLATFORM": "offscreen"})
    machine.check_display({"QT_QPA_PLATFORM": "wayland;vnc:size=800x600"})
    for platform in ("xcb", "wayland", "nonsense"):
        with pytest.raises(UserError, match="There is no display"):
            machine.check_display({"QT_QPA_PLATFORM": platform})


@linux
def test_a_display_has_to_answer(display: str, session: dict[str, str], tmp_path: Path) -> None:
    assert machine.has_display({"DISPLAY": display})
    assert machine.has_display(session)
    assert machine.has_display(session | {"DISPLAY": "127.0.0.1:1"})
    assert machine.has_display(session | {"WAYLAND_DISPLAY": str(tmp_path / "wayland-5")})
    (tmp_path / "wayland-6").touch()
    for dead in (
        {"DISPLAY": "127.0.0.1:1"},
        {"DISPLAY": "nonsense"},
        session | {"WAYLAND_DISPLAY": "wayland-6"},
        session | {"WAYLAND_DISPLAY": "wayland-7"},
        session | {"QT_QPA_PLATFORM": "xcb"},
    ):
        assert not machine.has_display(dead)
    with pytest.raises(UserError, match=r"The display 127\.0\.0\.1:1 does not answer: start tubeshelf from"):
        machine.check_window({"DISPLAY": "127.0.0.1:1"})
    with x_server(lets_in=False) as closed:
        assert not machine.has_display({"DISPLAY": closed})


@linux
def test_a_dead_display_ends_in_a_sentence_not_in_an_abort(tmp_path: Path) -> None:
    """Status −6 would be Qt's abort."""
    done = subprocess.run(
        [sys.executable, "-m", "tubeshelf", "--record", str(tmp_path / "shop.tubeshelf")],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "DISPLAY": "127.0.0.1:1", "WAYLAND_DISPLAY": "", "QT_QPA_PLATFORM": ""},
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr.count("\n")) == (1, 1)
    assert "does not answer" in done.stderr


@linux
def test_a_library_that_cannot_be_loaded_counts_as_missing() -> None:
    assert not machine._can_load("libnever-heard-of.so.9")
    assert machine._can_load("libc.so.6")
    assert machine.missing_libraries({"QT_QPA_PLATFORM": "offscreen"}) == []
