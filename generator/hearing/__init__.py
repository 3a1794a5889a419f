"""Hearing back: what was done against what was planned, from the logs that athletes send; for the coach alone."""
