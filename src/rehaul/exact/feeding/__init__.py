"""What feeds what: the least cost over ways to feed and the resources they share."""
