"""The lightest structure that meets every requirement: the problem, its solution with a bound, and the proof."""
