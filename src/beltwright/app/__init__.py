"""Use cases: one project object for command line, pages and scripts."""
