"""Frozen values that the window, the papers and the command line show; never live rows."""
