"""The chapters of the booklet, one module per subject."""
