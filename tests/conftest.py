"""What all tests share: no window on the screen, and records on a file and on a server."""

import os

from tests.records import clock, database, empty_file, file_record, record, server, server_record

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

__all__ = ["clock", "database", "empty_file", "file_record", "record", "server", "server_record"]
