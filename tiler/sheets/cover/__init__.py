"""The first page: what to measure, how to print, which page goes where; page mm."""
