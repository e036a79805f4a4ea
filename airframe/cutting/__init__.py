"""From parts to what lies on the cutting table: patterns, sheets, wires, sticks, shopping; no drawing library."""
