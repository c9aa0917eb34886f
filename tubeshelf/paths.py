"""Where things are: the shipped data and resources, inside the package or in the checkout, and the log."""

from pathlib import Path
from typing import Literal

from tubeshelf.domain.errors import UserError


def root(kind: Literal["data", "resources"]) -> Path:
    """The folder of shipped ``data`` or ``resources``.

    A wheel carries both inside the package (``_shared``); an editable install leaves them at the top
    of the checkout.
    Raises UserError if neither is there, which means a damaged installation.
    """
    package = Path(__file__).resolve().parent
    for candidate in (package / "_shared" / kind, package.parent / kind):
        if candidate.is_dir():
            return candidate
    raise UserError(f"The folder '{kind}' is missing from this installation: install tubeshelf again.")


def log_folder() -> Path:
    """Where the platform keeps the logs of programs."""
    import platformdirs

    return Path(platformdirs.user_log_dir("tubeshelf", appauthor=False))
