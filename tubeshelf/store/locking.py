"""One writing program for each record: a lock that names its holder and that a crash sets free."""

import json
import os
import socket
import sys
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from tubeshelf.domain.errors import UserError

# The lock lies far behind the holder's details, because on Windows locked bytes cannot be read.
LOCKED_BYTE = 1 << 20


@dataclass(frozen=True, slots=True)
class Holder:
    """The program that may write: its process number, its computer, and since when."""

    pid: int
    host: str
    since: str

    def words(self, record: Path) -> str:
        """Why the record can only be read, and what to do about it."""
        what = f"The record {record} is in use by another program, so it can only be read here"
        who = f"process {self.pid} on {self.host}, since {self.since}"
        if self.host == socket.gethostname():
            return f"{what} ({who}). Close that one to write."
        left = f"if none runs there any more, delete {lock_path(record)}"
        return f"{what} ({who}). Close that one to write; {left}."


def lock_path(record: Path) -> Path:
    """Where the lock of a record lies: beside it."""
    return record.with_name(f"{record.name}-lock")


class RecordLock:
    """The lock, held by this program until it is released or the program ends in whatever way."""

    def __init__(self, path: Path, descriptor: int) -> None:
        self._path = path
        self._descriptor = descriptor

    def release(self) -> None:
        """Let other programs write; the lock file goes."""
        if sys.platform == "win32":  # an open file cannot be removed there
            os.close(self._descriptor)
            with suppress(OSError):
                self._path.unlink()
        else:
            self._path.unlink(missing_ok=True)
            os.close(self._descriptor)


def take_lock(record: Path, *, now: datetime) -> RecordLock | Holder:
    """Become the one writing program of a record, or learn which one is.

    A lock left by a crash on this computer is taken over. One that another computer left stands, since
    nobody here can tell whether it still runs. Raises UserError where the lock cannot be made.
    """
    path = lock_path(record)
    while True:
        try:
            descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        except OSError as error:
            raise UserError(
                f"{path} keeps two programs from writing at once, and cannot be opened ({error.strerror}). "
                "See whether it belongs to somebody else or the disk is full."
            ) from error
        holder = _read(path)
        if not _try_to_lock(descriptor):
            os.close(descriptor)
            return holder or Holder(0, socket.gethostname(), "just now")
        if holder and holder.host != socket.gethostname():
            os.close(descriptor)
            return holder
        if _is_still(path, descriptor):
            break
        os.close(descriptor)  # its former holder removed it between our opening and our locking
    mine = {"pid": os.getpid(), "host": socket.gethostname(), "since": f"{now:%Y-%m-%d %H:%M} UTC"}
    with suppress(OSError):  # a full disk keeps the details out, not the lock
        os.ftruncate(descriptor, 0)
        os.write(descriptor, json.dumps(mine).encode())
    return RecordLock(path, descriptor)


def _read(path: Path) -> Holder | None:
    try:
        return Holder(**json.loads(path.read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return None


def _is_still(path: Path, descriptor: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


if sys.platform == "win32":
    import msvcrt

    def _try_to_lock(descriptor: int) -> bool:
        os.lseek(descriptor, LOCKED_BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        os.lseek(descriptor, 0, os.SEEK_SET)
        return True

else:
    import fcntl

    def _try_to_lock(descriptor: int) -> bool:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
