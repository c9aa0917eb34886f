"""Data in, a matplotlib Figure out; no pyplot, no Qt."""
