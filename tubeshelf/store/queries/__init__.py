"""Typed queries over the tables, one module a subject; rows out, no rules."""
