"""A redesign beside its prototype: dimensions, parts, what each did to the whole, findings and cost, as data."""
