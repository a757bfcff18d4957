"""A spec becomes pieces: edge, finish, fit and piece, numbers and geometry in millimetres."""
