"""The verdict: checks, what they add up to, sentences, tables and pictures."""
