import subprocess
import sys

import pytest

from tubeshelf.domain.errors import UserError
from tubeshelf.paper import machine

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux lacks what Qt needs")


def test_does_not_import_qt() -> None:
    code = "import sys, tubeshelf.paper.machine; print(any(m.startswith('PySide6') for m in sys.modules))"
    assert (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "False"
    )


@linux
def test_names_the_package_of_a_missing_library() -> None:
    lacking = machine.missing_libraries(
        {"DISPLAY": ":0"}, lambda name: name not in ("libEGL.so.1", "libxcb-cursor.so.0")
    )
    assert lacking == ["libegl1", "libxcb-cursor0"]


@linux
def test_asks_for_the_libraries_of_the_platform_in_use_only() -> None:
    def lacking(environment: dict[str, str]) -> set[str]:
        return set(machine.missing_libraries(environment, lambda name: False))

    assert "libxcb-cursor0" not in lacking({"QT_QPA_PLATFORM": "offscreen", "DISPLAY": ":0"})
    assert "libxcb-cursor0" in lacking({"DISPLAY": ":0"})
    assert "libwayland-client0" in lacking({"WAYLAND_DISPLAY": "wayland-0"})
    assert {"libegl1", "libgl1", "libxkbcommon0"} <= lacking({})


@linux
def test_says_what_to_do_without_a_display() -> None:
    with pytest.raises(UserError, match="There is no display") as caught:
        machine.check_display({})
    assert "tubeshelf --help" in caught.value.sentence
    for environment in ({"DISPLAY": ":0"}, {"WAYLAND_DISPLAY": "w"}, {"QT_QPA_PLATFORM": "offscreen"}):
        machine.check_display(environment)


@linux
def test_a_library_that_cannot_be_loaded_counts_as_missing() -> None:
    assert not machine._can_load("libnever-heard-of.so.9")
    assert machine._can_load("libc.so.6")
    assert machine.missing_libraries({"QT_QPA_PLATFORM": "offscreen"}) == []
