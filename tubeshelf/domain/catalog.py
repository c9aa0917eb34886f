"""The table of types as a whole: find one by any of its names, and what may serve for it."""

from collections.abc import Iterable
from types import MappingProxyType

from tubeshelf.domain.designations import candidates, fold, only_endings_differ, plain, readings, zeroed
from tubeshelf.domain.near import distance
from tubeshelf.domain.types import Substitute, TubeType

LONGEST = 60
"""Characters of a marking with two names and all its spaces; no longer text looks like a name."""


class Catalog:
    """Types and substitutes, immutable; every look-up by name is a dictionary access.

    A designation beats an equivalent of the same spelling; an equivalent that two types claim is
    nobody's, so that ``find`` never guesses. Of two entries for one pair of types the later stands
    (the shop's own behind the shipped ones). Raises ValueError if two types share a designation.
    """

    __slots__ = ("_by_key", "_by_name", "_names", "_serves_for", "_substitutes", "_substitutes_for")

    def __init__(self, types: Iterable[TubeType], substitutes: Iterable[Substitute] = ()) -> None:
        by_designation: dict[str, TubeType] = {}
        for tube in types:
            other = by_designation.setdefault(fold(tube.designation), tube)
            if other is not tube:
                raise ValueError(f"two types are called {other.designation}")
        by_equivalent: dict[str, TubeType] = {}
        disputed: set[str] = set()
        names: list[tuple[str, str, str]] = []
        for folded, tube in by_designation.items():
            also = [(fold(name), name, tube.key) for name in tube.equivalents]
            for name, _written, _key in also:
                if by_equivalent.setdefault(name, tube) is not tube:
                    disputed.add(name)
            if not tube.retired:
                names += [(folded, tube.designation, tube.key), *also]
        undisputed = {name: tube for name, tube in by_equivalent.items() if name not in disputed}
        self._by_name = MappingProxyType(undisputed | by_designation)
        self._by_key = MappingProxyType({tube.key: tube for tube in by_designation.values()})
        self._names = tuple(names)
        self._substitutes = MappingProxyType(self._resolved(substitutes))
        ranked = sorted(self._substitutes.items(), key=lambda item: item[1].grade)
        self._substitutes_for = _grouped((pair[0], entry) for pair, entry in ranked)
        self._serves_for = _grouped((pair[1], entry) for pair, entry in ranked)

    def _resolved(self, substitutes: Iterable[Substitute]) -> dict[tuple[str, str], Substitute]:
        """Entries by the keys of their two types; those that name a type not in the table are left out."""
        pairs: dict[tuple[str, str], Substitute] = {}
        for entry in substitutes:
            intended, found = self._type(entry.intended), self._type(entry.found)
            if intended is not None and found is not None:
                pairs[intended.key, found.key] = entry
        return pairs

    def _type(self, key_or_name: str) -> TubeType | None:
        return self._by_key.get(key_or_name) or self._by_name.get(fold(key_or_name))

    def _named(self, folded: str) -> TubeType | None:
        return self._by_name.get(folded) or self._by_name.get(zeroed(folded))

    def find(self, name: str) -> TubeType | None:
        """The type of that designation, equivalent or marking, however it is spelled; else ``None``.

        Of a marking with two names it is the first one's type, provided that the names mean one tube
        or one of them is a documented substitute of the other. An ending that the table does not list
        (the G of ``6V6GT/G``) does not stand in the way.
        """
        whole = self._named(fold(name))
        names = candidates(name) if whole is None else ()
        if len(names) < 2:
            return whole
        first, *others = map(self._named, names)
        if first is None:
            return None
        for other in others:
            if other is None and not only_endings_differ(name):
                return None
            if other is not None and not self._agree(first, other):
                return None
        return first

    def _agree(self, first: TubeType, other: TubeType) -> bool:
        return (
            first is other
            or (first.key, other.key) in self._substitutes
            or (other.key, first.key) in self._substitutes
        )

    def near(self, name: str, limit: int = 5) -> tuple[str, ...]:
        """Names in the table that look like this one, nearest first, one a type; to offer, not to use.

        The halves of a marking, its other ``readings`` and the plain form of a ruggedised name come first
        where they exist.
        """
        if len(name) > LONGEST:
            return ()
        asked = [one for one in candidates(name) if one]
        asked += [reading for one in asked for reading in readings(one)]
        asked += [bare for bare in map(plain, asked) if bare is not None]
        ranked = sorted(
            (score, written, key)
            for folded, written, key in self._names
            if (score := min((_score(one, folded) for one in asked), default=(9.0, 0)))[0] <= _most(folded)
        )
        names: dict[str, str] = {}
        for _, written, key in ranked:
            names.setdefault(key, written)
        return tuple(names.values())[:limit]

    def same(self, a: str, b: str) -> bool:
        """Whether both names mean one type that is in the table."""
        tube = self.find(a)
        return tube is not None and tube is self.find(b)

    def substitute(self, intended: str, found: str) -> Substitute | None:
        """The entry by which the type ``found`` (a key) may serve where ``intended`` (a key) belongs."""
        return self._substitutes.get((intended, found))

    def substitutes_for(self, key: str) -> tuple[Substitute, ...]:
        """What may stand in the place of this type, best grade first."""
        return self._substitutes_for.get(key, ())

    def serves_for(self, key: str) -> tuple[Substitute, ...]:
        """In the place of which types this one may stand, best grade first."""
        return self._serves_for.get(key, ())

    def substitutes(self) -> tuple[Substitute, ...]:
        """Every entry whose two types are in the table."""
        return tuple(self._substitutes.values())

    def types(self) -> tuple[TubeType, ...]:
        """Every type, in the order of the table; retired ones too."""
        return tuple(self._by_key.values())


def _score(asked: str, name: str) -> tuple[float, int]:
    """How far a name is from the one asked for; of equals the one that begins like it for longer is first."""
    alike = next(
        (at for at, (a, b) in enumerate(zip(asked, name, strict=False)) if a != b), min(len(asked), len(name))
    )
    return distance(asked, name, _most(name)), -alike


def _most(name: str) -> float:
    """The largest distance at which a name still looks like this one."""
    return (len(name) + 1) / 3


def _grouped(entries: Iterable[tuple[str, Substitute]]) -> MappingProxyType[str, tuple[Substitute, ...]]:
    groups: dict[str, list[Substitute]] = {}
    for key, entry in entries:
        groups.setdefault(key, []).append(entry)
    return MappingProxyType({key: tuple(group) for key, group in groups.items()})
