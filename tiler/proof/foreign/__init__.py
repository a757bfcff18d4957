"""Squares and ruler lines of any PDF, however they are drawn; mm."""
