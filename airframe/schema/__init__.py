"""The config as pydantic models: what a person types, checked and turned into internal units."""
