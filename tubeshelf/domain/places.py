"""Where a tube or lot can be."""

from enum import StrEnum


class Place(StrEnum):
    """A kind of place; which one (bin, socket, job) stands beside it.

    ``LOT`` is only the other end of a movement: tubes taken out of a lot, whose item it names.
    """

    OUTSIDE = "outside"
    SHELF = "shelf"
    SOCKET = "socket"
    BAG = "bag"
    CUSTOMER = "customer"
    SOLD = "sold"
    SCRAP = "scrap"
    REFERENCE = "reference"
    LOT = "lot"
