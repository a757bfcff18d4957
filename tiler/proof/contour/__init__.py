"""A piece of a contour band, held against what is stated of it: its lines run beside each other as they must; mm."""
