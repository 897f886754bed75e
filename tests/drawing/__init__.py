"""Invented houses drawn by chance, as the real world has them: awkward, half known, lived in."""
