"""Bench records for people who service vacuum-tube equipment."""

__version__ = "0.1.0"
