"""An invented workshop with three years of life, made through the same services that a bench uses.

Nothing in it is real: the people, the makers, the testers with their scales and settings, the brand marks.
What is tabular stands in ``data/demo``; the modules here say in which order a workshop would do it.
"""
