"""The one kind of error that a user is meant to read."""


class UserError(Exception):
    """Something the user can act on; the message is the sentence shown, complete and plain.

    Everything else that is raised is a bug: it goes to the log with its trace.
    """

    @property
    def sentence(self) -> str:
        """The sentence to show."""
        return str(self.args[0])
