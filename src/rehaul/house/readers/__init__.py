"""Readers: a house from a job document, a building model or a list of rooms."""
