"""Templates on paper and in files: one drawing at true size feeds DXF, SVG and PDF."""
