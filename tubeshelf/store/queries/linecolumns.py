"""What a setting line is judged by, for every query that asks for lines: its live limit and its tester."""

from tubeshelf.store.tables import Limit, SettingLine, Tester

LIMIT = (
    Limit.id.label("limit_id"),
    Limit.bogey,
    Limit.good_from,
    Limit.reject_below,
    Limit.above,
    Limit.source,
    Limit.dated,
)

TESTER = (
    Tester.name.label("tester"),
    Tester.method,
    Tester.unit,
    Tester.full_scale,
    Tester.words,
    Tester.relative,
    Tester.absolute,
    Tester.default_good_from,
    Tester.default_reject_below,
    Tester.default_good_share,
    Tester.default_reject_share,
)

LIVE_LIMIT = (Limit.setting_line_id == SettingLine.id) & Limit.ended_by.is_(None)
