"""Frames, webs, decks, stringers, bulkheads and framing zones on the real shell: panels and frame spans."""
