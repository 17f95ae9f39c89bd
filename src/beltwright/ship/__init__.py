"""The ship as the user describes it: typed, validated, nothing computed."""
