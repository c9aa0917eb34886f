"""Documents for print and PDF."""
