"""Many variants of one design at once: what is asked of them, how they are made, and the engines that make them."""
