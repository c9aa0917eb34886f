"""Which file: asked for when something is saved or read, without holding up the window."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

_HOME = QStandardPaths.StandardLocation.DocumentsLocation


def ask_where(
    parent: QWidget, title: str, name: str, kinds: Mapping[str, str], then: Callable[[Path], None]
) -> QFileDialog:
    """Ask for a file and hand its path to ``then``.

    ``name`` is what the file is called unless the user says otherwise; ``kinds`` maps an ending without
    its dot to its words. A path typed without one of them gets the ending of the kind that is chosen.
    """
    dialogue = _dialogue(parent, title, then)
    dialogue.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    filters = {f"{words} (*.{ending})": ending for ending, words in kinds.items()}
    dialogue.setNameFilters(list(filters))
    dialogue.filterSelected.connect(lambda chosen: dialogue.setDefaultSuffix(filters[chosen]))
    dialogue.setDefaultSuffix(next(iter(kinds)))
    dialogue.selectFile(name)
    dialogue.open()
    return dialogue


def ask_which(
    parent: QWidget, title: str, kinds: Mapping[str, str], then: Callable[[Path], None]
) -> QFileDialog:
    """Ask for a file that is there and hand its path to ``then``; ``kinds`` as for ``ask_where``."""
    dialogue = _dialogue(parent, title, then)
    dialogue.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialogue.setNameFilters([f"{words} (*.{ending})" for ending, words in kinds.items()] + ["All files (*)"])
    dialogue.open()
    return dialogue


def _dialogue(parent: QWidget, title: str, then: Callable[[Path], None]) -> QFileDialog:
    dialogue = QFileDialog(parent, title, _folder())
    # The toolkit's own dialogue looks and works alike everywhere, in tests too.
    dialogue.setOption(QFileDialog.Option.DontUseNativeDialog)
    dialogue.fileSelected.connect(lambda chosen: then(Path(chosen)))
    dialogue.finished.connect(dialogue.deleteLater)
    return dialogue


def _folder() -> str:
    """The documents of the user, where there are any."""
    place = QStandardPaths.writableLocation(_HOME)
    return place if Path(place).is_dir() else str(Path.home())
