"""The pages in the browser, and the interface for other programs; both served on this machine only."""
