"""Numeric work on domain values."""
