"""The project folder on disk."""
