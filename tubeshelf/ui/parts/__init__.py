"""Widgets drawn or composed for the pages."""
