"""Part families: each turns its table of the design into parts (drawings with places)."""
