"""The subcommands, one module each: they read arguments, call the stages, print. No computation lives here."""
