"""How far apart two folded names are to the eye that reads a worn marking."""

from tubeshelf.domain.designations import stem

_PAIRS = ("0O", "0D", "0Q", "1I", "1L", "1J", "2Z", "5S", "6G", "8B", "7T", "UV", "EF")
_LOOK_ALIKE = frozenset(_PAIRS) | frozenset(pair[::-1] for pair in _PAIRS)


def distance(asked: str, name: str, most: float = 9.0) -> float:
    """The least cost of turning one name into the other: 1 an edit, 0.5 where two characters look alike.

    Two neighbours exchanged cost 1 (optimal string alignment). Names that differ only in the letters
    behind the last digit are 0.5 apart, because that suffix is what people leave out. Stops early,
    giving 9, where the lengths alone rule out a near miss or the cost is sure to exceed ``most``.
    """
    if asked == name:
        return 0.0
    if stem(asked) == stem(name):
        return 0.5
    if abs(len(asked) - len(name)) > 2:
        return 9.0
    before_last: list[float] = []
    last = [float(column) for column in range(len(name) + 1)]
    for row, a in enumerate(asked, 1):
        current = [float(row)]
        for column, b in enumerate(name, 1):
            cost = min(last[column] + 1, current[-1] + 1, last[column - 1] + _swap(a, b))
            if row > 1 and column > 1 and a == name[column - 2] and b == asked[row - 2]:
                cost = min(cost, before_last[column - 2] + 1)
            current.append(cost)
        if min(current) > most and min(last) > most:  # an exchange looks two rows back
            return 9.0
        before_last, last = last, current
    return last[-1]


def _swap(a: str, b: str) -> float:
    if a == b:
        return 0.0
    return 0.5 if a + b in _LOOK_ALIKE else 1.0
