"""Where the program meets the world: files, commands, MkDocs. The only packages that do I/O."""
