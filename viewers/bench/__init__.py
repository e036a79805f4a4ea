"""The bench page: what it shows, kept apart from how it is served."""
