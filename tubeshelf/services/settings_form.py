"""The shop's settings as the texts of a form, and back."""

from collections.abc import Mapping

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.money import format_money, parse_money
from tubeshelf.domain.numbers import parse_number, plain_number
from tubeshelf.services.field_errors import Form
from tubeshelf.services.shop import ShopSettings

_LOWEST, _HIGHEST = 117.0, 150.0
_MOST_DAYS = 36_500


def settings_fields(settings: ShopSettings) -> dict[str, str]:
    """The settings as texts, which ``read_settings`` reads."""
    return {
        "name": settings.name,
        "address": settings.address,
        "currency": settings.currency,
        "labour": format_money(settings.labour).replace(",", "") if settings.labour else "",
        "high_line_v": plain_number(settings.high_line_v),
        "old_tubes": settings.old_tubes,
        "warranty": settings.warranty,
        "estimate_days": "" if settings.estimate_days is None else str(settings.estimate_days),
        "warranty_days": "" if settings.warranty_days is None else str(settings.warranty_days),
    }


def read_settings(fields: Mapping[str, str]) -> ShopSettings:
    """The settings somebody typed; ``FieldErrors`` with a sentence for each field that is wrong."""
    form = Form(fields)
    default = ShopSettings()
    settings = ShopSettings(
        name=form.text("name") or default.name,
        address=form.text("address"),
        currency=form.read("currency", _currency, ""),
        labour=form.read("labour", _labour, 0),
        high_line_v=form.read("high_line_v", _line, default.high_line_v),
        old_tubes=form.text("old_tubes"),
        warranty=form.text("warranty"),
        estimate_days=form.read("estimate_days", _days, None),
        warranty_days=form.read("warranty_days", _days, None),
    )
    form.check()
    return settings


def _currency(text: str) -> str:
    if len(text) > 3 or any(c.isdigit() for c in text):
        raise UserError(f"“{text}” is no currency: type its code or sign, such as EUR or $.")
    return text.upper()


def _days(text: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 5 or not 1 <= int(text) <= _MOST_DAYS:
        raise UserError("Type a number of days, such as 30, or leave it empty for no term.")
    return int(text)


def _labour(text: str) -> int:
    minor = parse_money(text)
    if minor < 0:
        raise UserError("Labour is not below zero: type an amount, or nothing.")
    return minor


def _line(text: str) -> float:
    volts = parse_number(text, "V")
    if not _LOWEST <= volts <= _HIGHEST:
        raise UserError("Type the highest line on a 117 V supply, from 117 to 150, such as 125.")
    return volts
