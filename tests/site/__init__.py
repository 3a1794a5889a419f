"""Built pages: links, markup, safety, weight, and that every place tells the same numbers."""
