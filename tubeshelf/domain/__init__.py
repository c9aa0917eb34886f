"""Frozen values and pure rules; standard library only; no clock, no files."""
