"""A limit as the texts of a form, and back; on a scale of words its figures are positions of words."""

from collections.abc import Mapping

from tubeshelf.domain.dates import parse_date
from tubeshelf.domain.judging import Limit, Scale
from tubeshelf.services.field_errors import FieldErrors, Form
from tubeshelf.services.figures import figure_text, not_negative, position

FIGURES = ("good_from", "reject_below", "bogey", "above")


def limit_fields(limit: Limit | None, scale: Scale) -> dict[str, str]:
    """A limit as texts, all empty for none and for one that the tester's default rule made."""
    if limit is None or limit.derived:
        return dict.fromkeys((*FIGURES, "source", "dated"), "")
    return {
        **{name: figure_text(getattr(limit, name), scale.words) for name in FIGURES},
        "source": limit.source,
        "dated": "" if limit.dated is None else limit.dated.isoformat(),
    }


def read_limit(fields: Mapping[str, str], scale: Scale) -> Limit | None:
    """The limit that somebody typed, ``None`` without any figure; ``FieldErrors`` for what is wrong."""

    def figure(text: str) -> float:
        return position(text, scale.words) if scale.words else not_negative(text)

    form = Form(fields)
    limit = Limit(
        good_from=form.read("good_from", figure, None),
        reject_below=form.read("reject_below", figure, None),
        bogey=form.read("bogey", figure, None),
        above=form.read("above", figure, None),
        unit=scale.unit,
        source=form.text("source"),
        dated=form.read("dated", parse_date, None),
    )
    form.check()
    check_limit(limit, scale.words)
    return None if all(getattr(limit, name) is None for name in FIGURES) else limit


def check_limit(limit: Limit | None, words: tuple[str, ...]) -> None:
    """Raise ``FieldErrors`` for a limit that cannot be meant; on a scale of words figures are positions."""
    if limit is None:
        return
    figures = {"good_from": limit.good_from, "reject_below": limit.reject_below}
    figures |= {"bogey": limit.bogey, "above": limit.above}
    wrong = {name: "Type 0 or more." for name, x in figures.items() if x is not None and x < 0}
    if words:
        listed = ", ".join(words)
        wrong |= {
            name: f"Choose one of the tester's words: {listed}."
            for name, x in figures.items()
            if x is not None and x not in range(1, len(words) + 1)
        }
    if (
        limit.good_from is not None
        and limit.reject_below is not None
        and limit.reject_below > limit.good_from
    ):
        wrong.setdefault(
            "reject_below", "Reject has to lie below good: type a figure up to where good begins."
        )
    if limit.above is not None and limit.good_from is not None and limit.above < limit.good_from:
        wrong.setdefault("above", "This lies below where good begins: type a higher figure, or nothing.")
    if wrong:
        raise FieldErrors(wrong)
