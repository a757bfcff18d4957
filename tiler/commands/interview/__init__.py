"""What ``tiler start`` asks, how it asks, and the piece that the answers make."""
