"""Requirements and scantlings of every plate and frame of one ship under one rule set."""
