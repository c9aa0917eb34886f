"""Records for the tests of the store."""

from tests.records import clock, database, empty_file, file_record, record, server, server_record

__all__ = ["clock", "database", "empty_file", "file_record", "record", "server", "server_record"]
