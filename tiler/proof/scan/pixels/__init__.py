"""What is measured in pixels: grey and light, regions, four-sided shapes, strokes and edges, and maps of planes."""
