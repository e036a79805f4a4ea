"""A parametric model of a whole foam-board aeroplane with real mass properties."""
