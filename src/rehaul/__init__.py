"""From what stands in a house to a wired network that is proven to work."""
