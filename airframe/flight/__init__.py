"""Flight estimates: SI units, body axes x forward, y to the right wing, z down."""
