"""Compute, draw, proof, replace: a file is put in place only when it is proved."""
