"""What a reader opens: one module a page kind, each turning records and results into page values."""
