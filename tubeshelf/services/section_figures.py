"""The figures of a section as they are told: each by its name in ``Section``, in words, with its unit."""

BOGEY = (("gm_umho", "gm", "µmho"), ("mu", "µ", ""), ("rp_ohm", "rp", "Ω"))
CONDITIONS = (
    ("plate_v", "plate", "V"),
    ("screen_v", "screen", "V"),
    ("grid_v", "grid", "V"),
    ("plate_ma", "plate current", "mA"),
    ("screen_ma", "screen current", "mA"),
)
LOSSES = (("plate_w_max", "plate at most", "W"), ("screen_w_max", "screen at most", "W"))

FIGURES = (*BOGEY, *CONDITIONS, *LOSSES)


def figure_name(name: str) -> str:
    """A figure of a section in words: ``gm_umho`` is ``gm µmho``."""
    return next(f"{words} {unit}".strip() for known, words, unit in FIGURES if known == name)
