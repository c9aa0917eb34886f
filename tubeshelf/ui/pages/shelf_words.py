"""Words for what lies on the shelf."""

from tubeshelf.services.views.shelf import ItemView


def called(item: ItemView) -> str:
    """A tube or lot in a title: ``12AX7 0977``, ``lot of 9 12AX7 in C5``."""
    name = item.designation or "unknown tube"
    return f"lot of {item.quantity} {name} in {item.bin}" if item.lot else f"{name} {item.tag}".strip()
