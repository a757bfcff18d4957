"""What a person sees on a terminal: tables, progress, durations, and lines that fit."""
