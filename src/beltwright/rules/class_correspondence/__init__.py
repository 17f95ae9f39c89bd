"""Three published tables that set ice classes of different systems side by side. None makes scantlings equal."""
