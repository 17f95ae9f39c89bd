"""The pages, one module each, and what all of them share."""
