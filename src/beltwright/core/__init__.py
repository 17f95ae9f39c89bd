"""Core types shared by every room."""
