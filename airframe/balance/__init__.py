"""Where the batteries may sit so that the aeroplane balances, and what to do if they cannot."""
