"""Backends: what turns a scene into a file."""
