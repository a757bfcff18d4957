"""Instruction pages: how each finish is sewn, step by step, in section; page mm."""
