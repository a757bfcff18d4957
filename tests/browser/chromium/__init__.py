"""The page in a real browser; ``.ci/run`` runs it, and pytest goes into no folder of this name by itself."""
