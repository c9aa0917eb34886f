"""Where one can go in the window."""

from dataclasses import dataclass

from tubeshelf.services.changes import Kind


@dataclass(frozen=True, slots=True)
class Place:
    """A page by name and, if wanted, the thing to bring into hand there."""

    page: str
    kind: Kind | None = None
    thing_id: int | None = None


@dataclass(frozen=True, slots=True)
class Hit:
    """Something that the search field found: its title, what else tells it apart, and where it is."""

    title: str
    sub: str
    place: Place
    mark: str = ""
    tone: str = ""
