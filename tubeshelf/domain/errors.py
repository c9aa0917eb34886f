"""The one kind of error that a user is meant to read."""

LONGEST = 600
"""Characters a sentence may have; one that quotes a pasted page loses its middle."""


def shortened(sentence: str) -> str:
    """A sentence that can be shown whole: beginning and end of one that is too long."""
    if len(sentence) <= LONGEST:
        return sentence
    return f"{sentence[: LONGEST // 2]} … {sentence[-LONGEST // 4 :]}"


class UserError(Exception):
    """Something the user can act on; the message is the sentence shown, complete and plain.

    Everything else that is raised is a bug: it goes to the log with its trace.
    """

    @property
    def sentence(self) -> str:
        """The sentence to show."""
        return shortened(str(self.args[0]))
