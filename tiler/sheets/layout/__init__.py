"""Where pieces lie on the sheet, how it is cut into pages and panes, and where these meet; sheet mm."""
