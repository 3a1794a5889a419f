"""What a stranger could send, made by chance from a seed: trees, commits, logs; and what must hold for each of them."""
