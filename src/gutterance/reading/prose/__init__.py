"""Notes told in long grammatical sentences: a small grammar of clauses, with its words as data."""
