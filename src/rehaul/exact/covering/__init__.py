"""Sites alone: the least cost that serves what is asked, where ways share nothing."""
