"""How sure the weights are: random quantities, what they do to the balance point, what the kitchen scale teaches."""
