"""Contour bands: a band that is cut as the edge is shaped, its lines true parallels of that; mm."""
