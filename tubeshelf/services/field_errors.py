"""Mistakes in a form, each a sentence beside its field."""

from collections.abc import Callable, Mapping
from typing import TypeVar

from tubeshelf.domain.errors import UserError, shortened

Read = TypeVar("Read")
Blank = TypeVar("Blank")


class FieldErrors(UserError):  # noqa: N818  it carries one sentence for each field that is wrong
    """What is wrong with a form: ``fields`` maps the name of a field to its sentence."""

    def __init__(self, fields: Mapping[str, str]) -> None:
        super().__init__(next(iter(fields.values())))
        self.fields = {name: shortened(sentence) for name, sentence in fields.items()}


class Form:
    """Reads the fields of a form one by one and keeps every mistake, so that all are shown at once."""

    def __init__(self, fields: Mapping[str, str]) -> None:
        self.fields = fields
        self.wrong: dict[str, str] = {}

    def text(self, name: str) -> str:
        """The text of a field without the spaces around it; empty if the form has no such field."""
        return self.fields.get(name, "").strip()

    def read(self, name: str, reader: Callable[[str], Read], blank: Blank) -> Read | Blank:
        """The field as ``reader`` makes it of its text; ``blank`` where it is empty or wrong."""
        text = self.text(name)
        if not text:
            return blank
        try:
            return reader(text)
        except UserError as error:
            self.wrong.setdefault(name, error.sentence)
            return blank

    def need(self, name: str, sentence: str) -> str:
        """The text of a field that must not be empty."""
        text = self.text(name)
        if not text:
            self.wrong.setdefault(name, sentence)
        return text

    def check(self) -> None:
        """Raise ``FieldErrors`` if anything was wrong."""
        if self.wrong:
            raise FieldErrors(self.wrong)
