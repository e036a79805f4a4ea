"""What a person sees: the command line, tables, pictures, pages, files."""
