"""What a page shows, measured from the page alone; page mm."""
