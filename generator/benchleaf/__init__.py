"""benchleaf compiles teardown records, code notes and wiring graphs into a manual that has been checked."""

__version__ = "0.1.0"
