"""Finds out before Qt aborts whether this machine has what Qt needs. Does not import Qt."""

import ctypes
import os
import sys
from collections.abc import Callable, Mapping

from tubeshelf.domain.errors import UserError

_NEEDED = (
    ("libEGL.so.1", "libegl1"),
    ("libGL.so.1", "libgl1"),
    ("libxkbcommon.so.0", "libxkbcommon0"),
    ("libfontconfig.so.1", "libfontconfig1"),
    ("libdbus-1.so.3", "libdbus-1-3"),
    ("libglib-2.0.so.0", "libglib2.0-0"),
)
_NEEDED_ON_X11 = (
    ("libX11-xcb.so.1", "libx11-xcb1"),
    ("libxcb-cursor.so.0", "libxcb-cursor0"),
    ("libxcb-icccm.so.4", "libxcb-icccm4"),
    ("libxcb-image.so.0", "libxcb-image0"),
    ("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    ("libxcb-randr.so.0", "libxcb-randr0"),
    ("libxcb-render-util.so.0", "libxcb-render-util0"),
    ("libxcb-shape.so.0", "libxcb-shape0"),
    ("libxcb-sync.so.1", "libxcb-sync1"),
    ("libxcb-xfixes.so.0", "libxcb-xfixes0"),
    ("libxcb-xkb.so.1", "libxcb-xkb1"),
    ("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
)
_NEEDED_ON_WAYLAND = (
    ("libwayland-client.so.0", "libwayland-client0"),
    ("libwayland-cursor.so.0", "libwayland-cursor0"),
)


def check_window(environment: Mapping[str, str] | None = None) -> None:
    """Raise UserError, saying what to do, if a window cannot be opened here."""
    check_display(environment)
    check_libraries(environment)


def check_libraries(environment: Mapping[str, str] | None = None) -> None:
    """Raise UserError naming the Debian packages that Qt misses here."""
    if packages := missing_libraries(environment):
        names = " ".join(packages)
        raise UserError(
            f"Qt needs system libraries that are missing here: install them with 'apt install {names}' "
            "(on other systems the packages of the same libraries) and start again."
        )


def check_display(environment: Mapping[str, str] | None = None) -> None:
    """Raise UserError if there is no display to open a window on."""
    if not has_display(environment):
        raise UserError(
            "There is no display to open the window on: start tubeshelf from a desktop session "
            "(or by 'ssh -X'), or use the command line, see 'tubeshelf --help'."
        )


def has_display(environment: Mapping[str, str] | None = None) -> bool:
    """Whether a window can be shown: on Linux that takes a display or an explicit Qt platform."""
    known = os.environ if environment is None else environment
    if not sys.platform.startswith("linux"):
        return True
    return any(known.get(name) for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"))


def missing_libraries(
    environment: Mapping[str, str] | None = None, can_load: Callable[[str], bool] | None = None
) -> list[str]:
    """The Debian packages of the libraries that Qt would not find; empty on other systems than Linux."""
    if not sys.platform.startswith("linux"):
        return []
    known = os.environ if environment is None else environment
    needed = [*_NEEDED, *_for_platform(known)]
    loads = can_load or _can_load
    return [package for library, package in needed if not loads(library)]


def _for_platform(environment: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    chosen = environment.get("QT_QPA_PLATFORM", "")
    if chosen.startswith(("offscreen", "minimal", "vnc", "linuxfb", "eglfs")):
        return ()
    if environment.get("DISPLAY") or chosen.startswith("xcb"):
        return _NEEDED_ON_X11
    return _NEEDED_ON_WAYLAND if environment.get("WAYLAND_DISPLAY") else ()


def _can_load(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
