"""Finds out before Qt aborts whether this machine has what Qt needs. Does not import Qt."""

import ctypes
import os
import sys
from collections.abc import Callable, Mapping, Sequence

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
    ("libxcb.so.1", "libxcb1"),
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
_NEEDED_FOR = {
    "xcb": _NEEDED_ON_X11,
    "wayland": _NEEDED_ON_WAYLAND,
    "wayland-egl": _NEEDED_ON_WAYLAND,
}
_WITHOUT_DISPLAY = frozenset(
    {"offscreen", "minimal", "minimalegl", "vnc", "linuxfb", "eglfs", "vkkhrdisplay"}
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
    known = os.environ if environment is None else environment
    if has_display(known):
        return
    named = next((known[name] for name in ("WAYLAND_DISPLAY", "DISPLAY") if known.get(name)), "")
    trouble = f"The display {named} does not answer" if named else "There is no display to open the window on"
    raise UserError(
        f"{trouble}: start tubeshelf from a desktop session (or by 'ssh -X'), or use the command line, "
        "see 'tubeshelf --help'."
    )


def has_display(environment: Mapping[str, str] | None = None) -> bool:
    """Whether a window can be shown: on Linux that takes a display that answers, or a Qt platform without."""
    return not sys.platform.startswith("linux") or bool(
        _platforms(os.environ if environment is None else environment)
    )


def missing_libraries(
    environment: Mapping[str, str] | None = None, can_load: Callable[[str], bool] | None = None
) -> list[str]:
    """The Debian packages of the libraries that Qt would not find; empty on other systems than Linux."""
    if not sys.platform.startswith("linux"):
        return []
    known = os.environ if environment is None else environment
    loads = can_load or _can_load

    def lacking(needed: Sequence[tuple[str, str]]) -> list[str]:
        return [package for library, package in needed if not loads(library)]

    # Where two displays answer, Qt takes the other if one of its platforms cannot be loaded.
    ways = [lacking(_NEEDED_FOR.get(platform, ())) for platform in _platforms(known)]
    return [*lacking(_NEEDED), *min(ways, key=len, default=[])]


def _platforms(environment: Mapping[str, str]) -> list[str]:
    """The platforms of Qt that would start here, of those that Qt would try."""
    asked = [name.partition(":")[0] for name in environment.get("QT_QPA_PLATFORM", "").split(";") if name]
    return [name for name in asked or ("wayland", "xcb") if _answers(name, environment)]


def _answers(platform: str, environment: Mapping[str, str]) -> bool:
    if platform.startswith("wayland"):
        return _wayland_answers(environment)
    return _x11_answers(environment.get("DISPLAY", "")) if platform == "xcb" else platform in _WITHOUT_DISPLAY


def _x11_answers(display: str) -> bool:
    """Ask the library that Qt asks, so that also a server that lets nobody in is known before Qt aborts."""
    if not display:
        return False
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:  # which is told with the other missing libraries
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connect.argtypes = (ctypes.c_char_p, ctypes.c_void_p)
    for function in (xcb.xcb_connection_has_error, xcb.xcb_disconnect):
        function.argtypes = (ctypes.c_void_p,)
    connection = xcb.xcb_connect(display.encode(errors="surrogateescape"), None)
    try:
        return not xcb.xcb_connection_has_error(connection)
    finally:
        xcb.xcb_disconnect(connection)


def _wayland_answers(environment: Mapping[str, str]) -> bool:
    """Whether somebody listens: the socket of a path, or of a name in the folder for the session."""
    if environment.get("WAYLAND_SOCKET"):  # an open connection handed down, which must not be used up
        return True
    display = environment.get("WAYLAND_DISPLAY", "")
    if not display:
        return False
    import socket  # with a display of this kind only: the window is to be painted soon

    with socket.socket(socket.AF_UNIX) as asking:
        try:
            asking.connect(os.path.join(environment.get("XDG_RUNTIME_DIR", ""), display))
        except OSError:
            return False
    return True


def _can_load(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
