"""Whether a file lies on a network drive, where SQLite's write-ahead log does not work."""

import re
import subprocess
import sys
from pathlib import Path

MOUNTS = Path("/proc/mounts")
"""Linux's list of mounted drives."""

NETWORK_KINDS = re.compile(
    r"nfs\d?|cifs|smb\w*|afpfs|webdav|davfs\d?|ncpfs|ceph|glusterfs|fuse\.(sshfs|rclone|glusterfs|davfs\d?)"
)


def network_kind(path: Path, *, mounts: Path = MOUNTS) -> str | None:
    """What kind of network drive a file is on, as the system calls it; None on a drive of this computer."""
    if sys.platform == "win32":
        return _drive_kind(path)
    if sys.platform == "darwin":
        told = subprocess.run(["/sbin/mount"], capture_output=True, text=True, check=False).stdout
        places = re.findall(r"^.* on (/.*) \((\w+).*\)$", told, re.MULTILINE)
    else:
        lines = mounts.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
        places = [(_unescaped(line.split()[1]), line.split()[2]) for line in lines]
    above = [(len(place), kind) for place, kind in places if path.is_relative_to(place)]
    kind = max(above, default=(0, ""))[1]
    return kind if NETWORK_KINDS.fullmatch(kind) else None


def _unescaped(place: str) -> str:
    """A mount point with its blanks, which are written as octal numbers."""
    return re.sub(r"\\([0-7]{3})", lambda octal: chr(int(octal[1], 8)), place)


if sys.platform == "win32":
    import ctypes

    DRIVE_REMOTE = 4  # what GetDriveTypeW calls a mapped network drive

    def _drive_kind(path: Path) -> str | None:
        if path.drive.startswith("\\\\"):
            return "shared folder"
        return "mapped drive" if ctypes.windll.kernel32.GetDriveTypeW(path.anchor) == DRIVE_REMOTE else None
