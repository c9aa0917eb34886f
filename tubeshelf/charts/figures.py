"""The charts of the program, by name."""

from tubeshelf.charts.distribution import distribution_figure
from tubeshelf.charts.job import job_figure
from tubeshelf.charts.looks import PAPER, save, settle

__all__ = ["PAPER", "distribution_figure", "job_figure", "save", "settle"]
