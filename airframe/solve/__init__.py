"""The answer turned round: which value of a key keeps a limit, the best values of several, what moves a result most."""
