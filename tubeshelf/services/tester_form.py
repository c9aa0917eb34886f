"""A tester as the texts of a form, and back."""

from collections.abc import Mapping
from typing import Any

from tubeshelf.domain.dates import parse_date
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.numbers import parse_number
from tubeshelf.domain.observing import MEGOHM
from tubeshelf.services.field_errors import Form
from tubeshelf.services.figures import (
    above_zero,
    figure_text,
    not_negative,
    number_text,
    percent_text,
    position,
    share_of_percent,
)
from tubeshelf.services.type_syntax import parse_list
from tubeshelf.services.views.types import TesterDetail

METHODS = ("emission", "transconductance", "plate current", "merit words")
"""What a tester reads. Only the second and third are quantities that a data sheet states."""


def tester_fields(tester: TesterDetail) -> dict[str, str]:
    """A tester as the texts of a form, which ``save_tester`` reads; shares and repeatability in per cent."""
    default, words = tester.default, tester.scale.words
    return {
        "name": tester.name,
        "method": tester.method,
        "unit": tester.scale.unit,
        "full_scale": number_text(tester.scale.full_scale),
        "words": "; ".join(words),
        "relative_percent": percent_text(tester.repeatability.relative),
        "absolute": number_text(tester.repeatability.absolute),
        "good_from": figure_text(default.good_from, words),
        "reject_below": figure_text(default.reject_below, words),
        "good_percent": percent_text(default.good_share),
        "reject_percent": percent_text(default.reject_share),
        "leakage_least": number_text(tester.passes.leakage_least),
        "gas_most": number_text(tester.passes.gas_most),
        "gas_unit": tester.passes.gas_unit,
        "field_names": "; ".join(tester.field_names),
        "checked_on": "" if tester.checked_on is None else tester.checked_on.isoformat(),
        "note": tester.note,
    }


def read_tester(form: Form) -> dict[str, Any]:
    """The columns of a tester; what is wrong stays with the form."""
    words = form.read("words", _words, ())
    method = form.need("method", "Choose what it reads.")
    if method and method not in METHODS:
        form.wrong.setdefault("method", f"“{method}” is no method: choose one of {', '.join(METHODS)}.")
    if method == "merit words" and not words:
        form.wrong.setdefault("words", "Type its words, worst first, such as bad; doubtful; good.")

    def figure(text: str) -> float:
        return position(text, words) if words else not_negative(text)

    values = {
        "name": " ".join(form.need("name", "Type the tester's name.").split()),
        "method": method,
        "unit": "" if words else form.text("unit"),
        "full_scale": None if words else form.read("full_scale", above_zero, None),
        "words": words,
        "relative": None if words else form.read("relative_percent", share_of_percent, None),
        "absolute": form.read("absolute", not_negative, None),
        "default_good_from": form.read("good_from", figure, None),
        "default_reject_below": form.read("reject_below", figure, None),
        "default_good_share": form.read("good_percent", share_of_percent, None),
        "default_reject_share": form.read("reject_percent", share_of_percent, None),
        "leakage_least": form.read("leakage_least", _megohm, None),
        "gas_most": form.read("gas_most", not_negative, None),
        "gas_unit": form.text("gas_unit"),
        "field_names": form.read("field_names", _field_names, ()),
        "checked_on": form.read("checked_on", parse_date, None),
        "note": form.text("note"),
    }
    _in_order(form, values, "default_good_from", "default_reject_below", "reject_below")
    _in_order(form, values, "default_good_share", "default_reject_share", "reject_percent")
    return values


def _in_order(form: Form, values: Mapping[str, Any], good: str, reject: str, field: str) -> None:
    if values[good] is not None and values[reject] is not None and values[reject] > values[good]:
        form.wrong.setdefault(field, "Reject has to lie below good: type a figure up to where good begins.")


def _megohm(text: str) -> float:
    value = parse_number(text, MEGOHM)
    if value < 0:
        raise UserError("Type 0 or more, in MΩ.")
    return value


def _words(text: str) -> tuple[str, ...]:
    words = parse_list(text)
    if len(words) < 2 or len({word.casefold() for word in words}) < len(words):
        raise UserError("Type at least two different words, worst first, such as bad; doubtful; good.")
    return words


def _field_names(text: str) -> tuple[str, ...]:
    names = parse_list(text)
    if len(set(names)) < len(names):
        raise UserError("Two fields have the same name: a setting line could not tell them apart.")
    return names
