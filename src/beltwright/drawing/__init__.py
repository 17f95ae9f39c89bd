"""Drawings of the shell and its hull areas: one neutral scene, a registry of sheets, and backends."""
