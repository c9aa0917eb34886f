"""The verbs of the command line, thin over services."""
